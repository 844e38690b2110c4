"""`slabtide timeline FILE`: the engine on its own, JSON in and JSON out."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from datetime import datetime
from pathlib import Path
from typing import NoReturn

from slabtide.engine import forecast
from slabtide.engine.contract import ContractError, default_at, read_pour, write_timeline

WRONG_INPUT = 2


class InputError(ValueError):
    """The file or an option can't be read; `str()` says why."""


def timeline(wanted: Namespace) -> int:
    """Print the timeline of the pour in a file; on wrong input all problems on standard error, status 2."""
    try:
        pour = read_pour(_read_json(wanted.file))
        at = _moment(wanted.at) if wanted.at else default_at(pour)
    except (ContractError, InputError) as problem:
        print(problem, file=sys.stderr)
        return WRONG_INPUT
    text = json.dumps(write_timeline(forecast(pour, at)), ensure_ascii=False, allow_nan=False)
    print(text)
    return 0


def _read_json(name: str) -> object:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
    except OSError as problem:
        raise InputError(f"{name}: {problem.strerror or problem}") from None
    except UnicodeDecodeError:
        raise InputError(f"{name}: not text in UTF-8") from None
    try:
        found: object = json.loads(text, parse_constant=_refuse)
    except json.JSONDecodeError as problem:
        where = f"line {problem.lineno}, column {problem.colno}"
        raise InputError(f"{name}: not valid JSON at {where}: {problem.msg}") from None
    except (ValueError, RecursionError) as problem:
        raise InputError(f"{name}: not valid JSON: {problem}") from None
    return found


def _refuse(constant: str) -> NoReturn:
    raise ValueError(f"{constant} is not a number in JSON")


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(f"--at {text}: give a date and time like 2026-07-14T08:05:00-05:00") from None
    if moment.tzinfo is None:
        raise InputError(f"--at {text}: add the offset, like {text}Z or {text}-05:00")
    return moment
