"""Diaries of many years, and what is done with them every day."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from copy import deepcopy
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from typing import Any, Final

from django.db import connection, connections, transaction
from django.test import Client as Browser

from jobs.bookings.holding import (
    ClashError,
    hold,
    refresh_reservations,
    wanted_reservations,
)
from jobs.bookings.models import Booking, Reservation
from jobs.bookings.states import BookingStatus
from jobs.clients.models import Client
from jobs.diary.queries import diary_month, month_of
from jobs.diary.worries import worries_during
from jobs.jobs.models import Job
from jobs.kits.models import KitItem
from jobs.places.models import Place
from studio.people.models import Person
from studio.timespan import TimeSpan
from tests.bench.finding import analyse
from tests.bench.growing import grow
from tests.make import (
    NOON,
    make_client,
    make_item,
    make_person,
    make_place,
    make_profile,
)

TEAMS: Final = 4
EACH: Final = 5
"""A session wants one person, one room and three items."""
CLOCKS: Final = (time(10), time(14))
A_DAY: Final = TEAMS * len(CLOCKS)
LAST: Final = datetime(2026, 5, 31, tzinfo=UTC)
"""The last day with sessions; a book goes back from here."""
MONTH: Final = LAST.date()
LONG: Final = timedelta(hours=2)
FIRST: Final = 25 * A_DAY
WRITTEN: Final = 10


@dataclass(frozen=True, slots=True)
class Team:
    """One person with a room and kit of their own."""

    person: Person
    room: Place
    items: tuple[KitItem, ...]
    client: Client


@dataclass(frozen=True, slots=True)
class Book:
    """A database with a diary in it."""

    wrapper: Any

    def run(self, work: Callable[[], None]) -> None:
        """Do something in this book."""
        connections["default"] = self.wrapper
        work()


@contextmanager
def books(folder: str, sizes: Iterable[int]) -> Iterator[dict[int, Book]]:
    """Make a book of so many reservations for each size; they are thrown away."""
    bare = connections["default"]
    bare.close()
    made = {size: Book(_copy(bare, folder, size)) for size in sizes}
    try:
        for size, book in made.items():
            book.run(lambda size=size: fill(reservations=size))  # type: ignore[misc]
        yield made
    finally:
        for book in made.values():
            book.wrapper.close()
        connections["default"] = bare
        if bare.vendor == "postgresql":
            _drop(book.wrapper.settings_dict["NAME"] for book in made.values())


def fill(*, reservations: int) -> None:
    """Write sessions of four teams, back from the last day."""
    make_profile(home_latitude=54.47, home_longitude=-0.62)
    teams = [_team(number) for number in range(TEAMS)]
    whole = reservations // EACH
    numbers = range(min(FIRST, whole))
    jobs = Job.objects.bulk_create([_job(one, teams[0]) for one in numbers])
    pairs = zip(numbers, jobs, strict=True)
    booked = Booking.objects.bulk_create(
        [_booking(number, job, teams[number % TEAMS]) for number, job in pairs]
    )
    for number, booking in zip(numbers, booked, strict=True):
        Reservation.objects.bulk_create(_held(booking, teams[number % TEAMS]))
    grow(whole)
    if connection.vendor == "postgresql":  # SQLite counts its rows only when asked
        analyse()


def write_sessions() -> None:
    """Write sessions on free evenings, hold all that they want, and take it back."""
    _at_each_day(time(18))


def refuse_sessions() -> None:
    """Ask for what is held already, and be told by what."""
    _at_each_day(CLOCKS[1])


def read_month() -> None:
    """Read the days of a month with sessions, and what does not go together."""
    days = month_of(MONTH)
    start = datetime.combine(days[0][0], time(), UTC)
    end = datetime.combine(days[-1][-1], time(), UTC) + timedelta(days=1)
    diary_month(MONTH, at=NOON)
    worries_during(TimeSpan(start, end))


def open_month() -> None:
    """Open the month's page."""
    browser = Browser()
    browser.force_login(Person.objects.order_by("pk")[0])
    assert browser.get(f"/diary/?view=month&on={MONTH}").status_code == 200


WORKS: Final = {
    "written and held": write_sessions,
    "refused": refuse_sessions,
    "month read": read_month,
    "month's page": open_month,
}
OF_A_MONTH: Final = ("month read", "month's page")


def _at_each_day(clock: time) -> None:
    job, team = Job.objects.order_by("-pk")[0], _first_team()
    items = [one.pk for one in team.items]
    for back in range(WRITTEN):
        on = LAST.date() - timedelta(days=back)
        with transaction.atomic():
            booking = _new(job, team, datetime.combine(on, clock, UTC))
            booking.save()
            refresh_reservations(booking, [team.person.pk], items)
            is_free = False
            with suppress(ClashError):
                hold(booking)
                is_free = True
            assert is_free == (clock not in CLOCKS)
            transaction.set_rollback(True)


def _copy(bare: Any, folder: str, size: int) -> Any:
    settings = deepcopy(bare.settings_dict)
    settings["NAME"] = f"{settings['NAME']}_{size}"
    if bare.vendor == "sqlite":
        shutil.copy(bare.settings_dict["NAME"], settings["NAME"])
    else:
        _drop([settings["NAME"]])
        with bare._nodb_cursor() as cursor:
            source = bare.settings_dict["NAME"]
            cursor.execute(f'CREATE DATABASE "{settings["NAME"]}" TEMPLATE "{source}"')
    return type(bare)(settings, "default")


def _drop(names: Iterable[str]) -> None:
    with connections["default"]._nodb_cursor() as cursor:
        for name in names:
            cursor.execute(f'DROP DATABASE IF EXISTS "{name}"')


def _team(number: int) -> Team:
    return Team(
        person=make_person(f"person{number}"),
        room=make_place(f"Room {number}", is_room=True),
        items=tuple(make_item(f"Item {number}.{one}") for one in range(EACH - 2)),
        client=make_client(f"Client {number}"),
    )


def _first_team() -> Team:
    return Team(
        person=Person.objects.order_by("pk")[0],
        room=Place.objects.order_by("pk")[0],
        items=tuple(KitItem.objects.order_by("pk")[: EACH - 2]),
        client=Client.objects.order_by("pk")[0],
    )


def _job(number: int, team: Team) -> Job:
    return Job(
        number=f"J-2026-{number:06}",
        client=team.client,
        title=f"Session {number}",
        owner=team.person,
        enquired_at=NOON,
        reply_by_on=NOON.date(),
    )


def _new(job: Job, team: Team, starts_at: datetime) -> Booking:
    return Booking(
        job=job,
        place=team.room,
        status=BookingStatus.CONFIRMED,
        confirmed_at=NOON,
        starts_at=starts_at,
        ends_at=starts_at + LONG,
    )


def _booking(number: int, job: Job, team: Team) -> Booking:
    days, place = divmod(number, A_DAY)
    clock = CLOCKS[place // TEAMS]
    on = LAST.date() - timedelta(days=days)
    return _new(job, team, datetime.combine(on, clock, UTC))


def _held(booking: Booking, team: Team) -> list[Reservation]:
    people = [team.person.pk]
    rows = wanted_reservations(booking, people, [one.pk for one in team.items])
    for row in rows:
        row.holds = True
    return rows
