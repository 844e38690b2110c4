"""What goes to the phone runs there: our own files, the standard library and the time zones, nothing else."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from tests.phone.packing import ROOT, pack_engine

TRY = """
import sys
sys.path[:0] = sys.argv[1:]
import slabtide.phone.work, zoneinfo
zoneinfo.reset_tzpath(to=())
print(zoneinfo.ZoneInfo("America/Chicago").key)
roots = {name.split(".")[0] for name in sys.modules if not name.startswith("_")}
print(sorted(roots - set(sys.stdlib_module_names)))
print(*(module.__spec__.origin for name, module in sys.modules.items() if name.startswith("slabtide")))
"""


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("packed")
    subprocess.run([sys.executable, ROOT / "pwa/scripts/pack_engine.py", folder], check=True)
    return folder


def test_the_closure_is_the_standard_library_and_our_own() -> None:
    names = set(pack_engine.closure())
    assert {"slabtide.engine.prediction", "slabtide.log.view", "slabtide.office.pour"} <= names
    assert {"slabtide.weather.assemble", "slabtide.reminders.rules"} <= names
    assert not {
        name for name in names if name.startswith(("slabtide.store", "slabtide.sync", "slabtide.app"))
    }


@pytest.mark.parametrize("entry", ["slabtide.office.outlook", "slabtide.log.fold", "slabtide.app"])
def test_a_file_that_needs_more_would_be_refused(entry: str) -> None:
    with pytest.raises(pack_engine.NotStandardError, match="imports"):
        pack_engine.closure(entry)


def test_the_packed_files_run_with_no_package_in_reach(packed: Path) -> None:
    archives = [str(packed / "slabtide.zip"), str(packed / "tzdata.zip")]
    bare = [sys.executable, "-I", "-S", "-c", TRY, *archives]
    done = subprocess.run(bare, capture_output=True, text=True, check=True)
    zone, roots, origins = done.stdout.splitlines()
    assert zone == "America/Chicago"
    assert roots == "['slabtide', 'tzdata']"
    assert all(str(packed) in origin for origin in origins.split())


def test_the_same_files_give_the_same_bytes(packed: Path, tmp_path: Path) -> None:
    subprocess.run([sys.executable, ROOT / "pwa/scripts/pack_engine.py", tmp_path], check=True)
    for name in ("slabtide.zip", "tzdata.zip"):
        assert (tmp_path / name).read_bytes() == (packed / name).read_bytes()


def test_packed_code_is_the_servers_own(packed: Path) -> None:
    with zipfile.ZipFile(packed / "slabtide.zip") as archive:
        names = [name for name in archive.namelist() if archive.read(name)]
        assert len(names) > 40
        assert all(archive.read(name) == (ROOT / "server" / name).read_bytes() for name in names)
