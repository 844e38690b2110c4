"""`scripts/demo-data`: loads the demo company into the server that SLABTIDE_HOST and SLABTIDE_PORT name."""

import argparse
import sys
import urllib.error

from scripts.demo.load import load, loaded_at
from scripts.demo.phone import RefusedError
from scripts.demo.serving import base_url, home, wait_for


def main() -> int:
    parser = argparse.ArgumentParser(prog="scripts/demo-data", description=__doc__)
    parser.add_argument("--url", default=base_url(), help="address of the server (default: %(default)s)")
    parser.add_argument("--wait", type=float, default=0, metavar="SECONDS", help="for the server to answer")
    options = parser.parse_args()
    try:
        wait_for(options.url, options.wait)
        if not load(options.url, home()):
            print(
                f"demo: already loaded, set around {loaded_at(home())}; for a fresh one move {home()} aside"
            )
    except (TimeoutError, RuntimeError, RefusedError, urllib.error.HTTPError) as error:
        body = f" {error.read().decode()}" if isinstance(error, urllib.error.HTTPError) else ""
        print(f"demo: not loaded: {error}{body}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
