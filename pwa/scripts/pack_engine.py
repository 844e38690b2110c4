"""Pack what the phone computes with: our own Python files and the time zones, each into one archive.

Usage: pack_engine.py FOLDER. Writes slabtide.zip and tzdata.zip there; the same files give the same bytes.
The files are the import closure of the phone's one call; a file that needs more than the standard library
ends the run, for it could not work there.
"""

import ast
import importlib.util
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

SERVER = Path(__file__).resolve().parents[2] / "server"
ENTRY = "slabtide.phone.work"
# Rooms whose __init__ joins them to the web application: on the phone there is none, so theirs stay empty.
WIRED = ("slabtide.office", "slabtide.reminders", "slabtide.weather")
_LONG_AGO = (1980, 1, 1, 0, 0, 0)


class NotStandardError(Exception):
    """A file for the phone imports what the phone does not have."""


def closure(entry: str = ENTRY) -> dict[str, Path]:
    """Every module of ours that `entry` imports, by name, the wired packages' own files left out.

    Raises: NotStandardError.
    """
    found: dict[str, Path] = {}
    ahead = [entry]
    while ahead:
        name = ahead.pop()
        if name in found or name in WIRED:
            continue
        found[name] = path_of(name)
        ahead += ancestors(name)
        for imported in imports_of(found[name], name):
            root = imported.split(".")[0]
            if root == "slabtide":
                ahead.append(imported)
            elif root not in sys.stdlib_module_names:
                raise NotStandardError(f"{found[name].relative_to(SERVER)} imports {imported}")
    return dict(sorted(found.items()))


def imports_of(path: Path, name: str) -> Iterator[str]:
    """The modules a file imports wherever in it, spelled from the root."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            if node.level or not node.module:
                raise NotStandardError(f"{name} has a relative import; spell it from the root")
            yield node.module
            below = (f"{node.module}.{alias.name}" for alias in node.names)
            yield from (each for each in below if node.module.startswith("slabtide") and is_module(each))


def ancestors(name: str) -> list[str]:
    parts = name.split(".")
    return [".".join(parts[:count]) for count in range(1, len(parts))]


def path_of(name: str) -> Path:
    here = SERVER / name.replace(".", "/")
    return here / "__init__.py" if here.is_dir() else here.with_suffix(".py")


def is_module(name: str) -> bool:
    return path_of(name).is_file()


def code_files() -> dict[str, bytes]:
    """What goes into slabtide.zip, by name inside it."""
    files = {path.relative_to(SERVER).as_posix(): path.read_bytes() for path in closure().values()}
    empty = {f"{name.replace('.', '/')}/__init__.py": b"" for name in WIRED}
    return dict(sorted((files | empty).items()))


def zone_files() -> dict[str, bytes]:
    """What goes into tzdata.zip: the zones of the package tzdata, as zoneinfo looks for them."""
    spec = importlib.util.find_spec("tzdata")
    if spec is None or spec.origin is None:
        raise SystemExit("pack_engine: the package tzdata is missing here; run scripts/setup first")
    root = Path(spec.origin).parent
    wanted = (path for path in root.rglob("*") if path.is_file() and is_zone_file(path))
    return {f"tzdata/{path.relative_to(root).as_posix()}": path.read_bytes() for path in sorted(wanted)}


def is_zone_file(path: Path) -> bool:
    return path.name == "__init__.py" or path.read_bytes()[:4] == b"TZif"


def write_zip(target: Path, files: dict[str, bytes], method: int) -> None:
    """An archive whose bytes depend on the names and contents alone."""
    with zipfile.ZipFile(target, "w") as archive:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, _LONG_AGO)
            entry.compress_type = method
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content)


def main() -> None:
    if len(sys.argv) != 2:
        raise SystemExit("Usage: pack_engine.py FOLDER")
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    # Ours is stored plain: it travels packed anyhow, and starts faster.
    write_zip(folder / "slabtide.zip", code_files(), zipfile.ZIP_STORED)
    write_zip(folder / "tzdata.zip", zone_files(), zipfile.ZIP_DEFLATED)


if __name__ == "__main__":
    main()
