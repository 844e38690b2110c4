"""Every command and its options. Each names the function that runs it."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    Commands = _SubParsersAction[ArgumentParser]

ROLES = ("crew", "foreman", "office")


def parser() -> ArgumentParser:
    """The whole command line."""
    top = ArgumentParser(
        prog="slabtide", description="From take-off to close-out for coloured, stamped slabs."
    )
    commands = top.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _serving(commands)
    _people(commands)
    _computing(commands)
    _documents(commands)
    _keeping(commands)
    _add(commands, "version", "tell:version", "Say which version this is.")
    return top


def _add(commands: Commands, name: str, run: str, words: str) -> ArgumentParser:
    made = commands.add_parser(name, help=words, description=words)
    made.set_defaults(run=run)
    return made


def _serving(commands: Commands) -> None:
    _add(commands, "serve", "serve:serve", "Serve the app and the API, and send reminders.")
    _add(commands, "migrate", "keep:migrate", "Bring the database to this version. Safe to repeat.")
    _add(commands, "keys", "keep:keys", "Make the key that signs notifications, unless it is there.")


def _people(commands: Commands) -> None:
    words = "Make or list companies."
    company = commands.add_parser("company", help=words, description=words)
    inner = company.add_subparsers(title="commands", required=True, metavar="COMMAND")
    create = _add(inner, "create", "people:create", "Make a company; prints its name and id.")
    create.add_argument("name", metavar="NAME")
    _add(inner, "list", "people:show", "List the companies, name and id.")
    invite = _add(commands, "invite", "people:invite", "Make a one-time code that lets one device in.")
    invite.add_argument("--role", required=True, choices=ROLES)
    invite.add_argument("--company", metavar="ID", help="id or name; needed when there are several")
    invite.add_argument("--person", metavar="NAME", help="someone in the company whose device it will be")
    invite.add_argument("--json", action="store_true", help="print JSON instead of words")


def _computing(commands: Commands) -> None:
    timeline = _add(
        commands, "timeline", "timeline:timeline", "Compute the windows of a pour: JSON in, JSON out."
    )
    timeline.add_argument("file", metavar="FILE", help="the pour as JSON; - reads standard input")
    timeline.add_argument(
        "--at", metavar="ISO", help="when the forecast is made, with offset (default: last check)"
    )
    words = "Load weather for a job."
    weather = commands.add_parser("weather", help=words, description=words)
    inner = weather.add_subparsers(title="commands", required=True, metavar="COMMAND")
    load = _add(
        inner, "load", "weather:load", "Keep the hours of a weather file (TMY3 or hourly JSON) for a job."
    )
    load.add_argument("file", metavar="FILE")
    load.add_argument("--job", required=True, metavar="ID")
    load.add_argument("--shift-to", metavar="DATE", help="lay the series onto this date, YYYY-MM-DD")
    load.add_argument("--like", metavar="MM-DD", help="the part of a typical year to lay there")
    load.add_argument("--company", metavar="ID", help="id or name; needed when there are several")
    kinds = _add(commands, "kinds", "tell:kinds", "Print what is generated from the kinds of the field log.")
    what = kinds.add_mutually_exclusive_group(required=True)
    what.add_argument("--typescript", action="store_true", help="the phone's types")
    what.add_argument("--json-schema", action="store_true", help="JSON Schema of every body")
    what.add_argument("--lists", action="store_true", help="the checklists' items, TypeScript")


def _documents(commands: Commands) -> None:
    record = _add(commands, "record", "record:record", "Write the close-out record of a job as a PDF.")
    record.add_argument("--job", required=True, metavar="ID")
    record.add_argument("--for", dest="reader", choices=("owner", "file"), default="owner", help="whose form")
    record.add_argument("--language", choices=("en", "es"), default="en")
    record.add_argument("--units", choices=("us", "metric"), default="us")
    record.add_argument("--company", metavar="ID", help="id or name; needed when there are several")
    record.add_argument("-o", dest="out", required=True, metavar="FILE")
    export = _add(
        commands, "export", "record:export", "Write all entries of a company, and tables, as a zip."
    )
    export.add_argument("file", metavar="FILE")
    export.add_argument("--company", metavar="ID", help="id or name; needed when there are several")
    export.add_argument("--photos", action="store_true", help="put the photos in too")


def _keeping(commands: Commands) -> None:
    backup = _add(
        commands, "backup", "keep:backup", "Write database, photos and key to one file while serving."
    )
    backup.add_argument("file", metavar="FILE")
    restore = _add(commands, "restore", "keep:restore", "Put a backup in place; the server must be stopped.")
    restore.add_argument("file", metavar="FILE")
