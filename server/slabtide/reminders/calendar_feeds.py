"""Private calendar addresses: made, found, counted and ended. The secret is 256 random bits, shown once."""

import threading
from collections import OrderedDict, deque
from dataclasses import dataclass
from datetime import datetime, timedelta
from http import HTTPStatus

from sqlalchemy import bindparam, exists, select, update

from slabtide.errors import AppError, NotFoundError
from slabtide.people.tokens import company_of, new_token, token_hash
from slabtide.store.session import glance, write
from slabtide.store.tables import CalendarFeed, Company, Device, Person
from slabtide.store.upsert import insert_into

WINDOW = timedelta(minutes=10)
READS_PER_FEED = 30
STRANGERS_PER_ADDRESS = 60
_MOST_ADDRESSES = 10_000
_FEED = (
    select(CalendarFeed.person_id, Person.language, Company.name.label("company_name"))
    .join(Person, (Person.company_id == CalendarFeed.company_id) & (Person.id == CalendarFeed.person_id))
    .join(Company, Company.company_id == CalendarFeed.company_id)
    .where(
        CalendarFeed.company_id == bindparam("company"),
        CalendarFeed.secret_sha256 == bindparam("secret"),
        CalendarFeed.revoked_at.is_(None),
        # Who has no device left has left the company: the calendar ends with the last one.
        exists().where(
            Device.company_id == CalendarFeed.company_id,
            Device.person_id == CalendarFeed.person_id,
            Device.revoked_at.is_(None),
        ),
    )
)


class UnknownCalendarError(NotFoundError):
    """No calendar has this address, or no longer."""

    code = "calendar_unknown"

    def __init__(self) -> None:
        super().__init__("This calendar address is not in use.", "Make a new one in the app's settings.")


class TooOftenError(AppError):
    """A calendar is read more often than makes sense."""

    code = "slow_down"
    status = HTTPStatus.TOO_MANY_REQUESTS
    retry_after_s = int(WINDOW.total_seconds())

    def __init__(self) -> None:
        super().__init__("This calendar is read too often.", "Wait ten minutes; once an hour is enough.")


@dataclass(frozen=True, slots=True)
class Reader:
    """Whose calendar is read."""

    company_id: str
    company_name: str
    person_id: str
    language: str


def make(company_id: str, person_id: str, now: datetime) -> str:
    """A fresh secret for a person; what they had before ends with it."""
    secret = new_token(company_id)
    values = {"secret_sha256": token_hash(secret), "created_at": now, "revoked_at": None, "reads": 0}
    with write() as session:
        new = insert_into(session, CalendarFeed).values(company_id=company_id, person_id=person_id, **values)
        keys = [CalendarFeed.company_id, CalendarFeed.person_id]
        session.execute(new.on_conflict_do_update(index_elements=keys, set_=values | {"counted_from": None}))
    return secret


def end(company_id: str, person_id: str, now: datetime) -> None:
    """Make a person's address answer no more. Ending twice is no error."""
    with write() as session:
        session.execute(
            update(CalendarFeed)
            .where(CalendarFeed.company_id == company_id, CalendarFeed.person_id == person_id)
            .values(revoked_at=now)
        )


def find(secret: str) -> Reader:
    """Whose calendar a secret opens. Raises: UnknownCalendarError."""
    company_id = company_of(secret)
    row = glance(_FEED, {"company": company_id, "secret": token_hash(secret)}) if company_id else None
    if company_id is None or row is None:
        raise UnknownCalendarError
    return Reader(company_id, row.company_name, row.person_id, row.language)


def count(reader: Reader, now: datetime) -> None:
    """Count a reading. Raises: TooOftenError past thirty in ten minutes."""
    with write() as session:
        feed = session.get_one(CalendarFeed, (reader.company_id, reader.person_id), with_for_update=True)
        if feed.counted_from is None or now - feed.counted_from >= WINDOW:
            feed.counted_from, feed.reads = now, 0
        feed.reads += 1
        if feed.reads > READS_PER_FEED:
            raise TooOftenError


class Strangers:
    """Wrong secrets by address, in this process: nobody guesses 256 bits, this only keeps the noise down."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._seen: OrderedDict[str, deque[datetime]] = OrderedDict()

    def refuse_if_many(self, address: str, now: datetime) -> None:
        """Raises: TooOftenError."""
        with self._lock:
            times = self._seen.get(address, deque())
            while times and now - times[0] >= WINDOW:
                times.popleft()
            if len(times) >= STRANGERS_PER_ADDRESS:
                raise TooOftenError

    def note(self, address: str, now: datetime) -> None:
        """Remember a wrong secret from `address`."""
        with self._lock:
            self._seen.setdefault(address, deque(maxlen=STRANGERS_PER_ADDRESS)).append(now)
            self._seen.move_to_end(address)
            while len(self._seen) > _MOST_ADDRESSES:
                self._seen.popitem(last=False)
