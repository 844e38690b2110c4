"""Says where the served demo is, and lets three people in: a link and a QR code for each role."""

import io
import os

import segno
from scripts.demo.load import loaded_company
from scripts.demo.serving import ROLES, base_url, home, invite

WHO = {
    "crew": "a crew member, on a phone",
    "foreman": "the foreman, on a phone",
    "office": "the office, on a desk",
}


def qr(link: str) -> str:
    """The link as a QR code of half blocks, for a terminal."""
    drawn = io.StringIO()
    segno.make(link, error="l").terminal(out=drawn, compact=True, border=2)
    return drawn.getvalue()


def main() -> None:
    print(f"\nSlabtide is at {base_url()}   (data: {home()})")
    for role in ROLES:
        link = invite(role, loaded_company(home()))
        print(f"\nJoin as {WHO[role]}:\n  {link}\n{qr(link)}")
    minutes = os.environ.get("SLABTIDE_INVITE_MINUTES") or "10"
    print(
        f"Each link lets one person in, once, within {minutes} minutes. For another, while this runs:\n"
        "  .venv/bin/slabtide invite --role crew\n"
        "On another device: set SLABTIDE_HOST=0.0.0.0 and SLABTIDE_BASE_URL to this machine's address;\n"
        "without https a phone keeps nothing offline (docs/deploy.md). Ctrl-C stops.",
        flush=True,
    )


if __name__ == "__main__":
    main()
