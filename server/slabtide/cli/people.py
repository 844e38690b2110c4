"""Commands for whoever runs the server: companies, and the first invite of each."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from datetime import UTC, datetime

import segno

from slabtide.app import create_app
from slabtide.cli.telling import in_words
from slabtide.config import config_of
from slabtide.log.instants import write_instant
from slabtide.people import codes, companies, invites
from slabtide.store import database


@in_words
def create(wanted: Namespace) -> int:
    """Make a company."""
    app = create_app()
    with app.app_context():
        print(wanted.name.strip(), companies.create_company(wanted.name))
    database.dispose(app)
    return 0


@in_words
def show(wanted: Namespace) -> int:
    """List the companies."""
    app = create_app()
    with app.app_context():
        for name, company_id in companies.all_companies():
            print(name, company_id)
    database.dispose(app)
    return 0


@in_words
def invite(wanted: Namespace) -> int:
    """Make a code and show it as words, link and, on a terminal, as a QR code."""
    app = create_app()
    config = config_of(app)
    with app.app_context():
        company_id = companies.find_company(wanted.company)
        made = invites.invite(
            company_id,
            wanted.role,
            now=datetime.now(UTC),
            minutes=config.invite_minutes,
            person_name=wanted.person,
        )
    database.dispose(app)
    link = invites.link(config.own_url, made.code)
    if wanted.json:
        expires = write_instant(made.expires_at)
        print(
            json.dumps(
                {"code": codes.shown(made.code), "link": link, "expires_at": expires, "role": made.role}
            )
        )
        return 0
    print(
        f"Code {codes.shown(made.code)}, for one {made.role}, good for {config.invite_minutes} minutes.",
        link,
        sep="\n",
    )
    if sys.stdout.isatty():
        segno.make(link, error="m").terminal(compact=True)
    return 0
