"""What pages show of sessions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final

from django.urls import reverse

from jobs.bookings.holding import clash_sentence
from jobs.bookings.models import Attendee, Booking, Reservation
from jobs.bookings.states import SETTLED, BookingStatus
from jobs.bookings.travelling import way_sentence
from jobs.bookings.wanted import guests_of, things_of
from jobs.calendars.queries import busy_sentence
from jobs.diary.daylight import Spot, sun_words
from jobs.jobs.models import Job
from jobs.places.models import Place
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan

MOST_SAME_DAY: Final = 3
OPEN_HOLDS: Final = (BookingStatus.PENCILLED, BookingStatus.CONFIRMED)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptThings:
    """What a session keeps for itself, and who comes to it."""

    people: tuple[str, ...]
    items: tuple[str, ...]
    room: str
    attendees: tuple[Attendee, ...]
    clash: str
    busy: str
    way: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """What is missing from a session that is near, and where it is filled in."""

    booking: Booking
    words: str
    url: str


def spot_of(place: Place) -> Spot:
    """Return a place as the day's light wants it."""
    return Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )


def session_to_edit(job: Job) -> Booking | None:
    """Return the job's last session that can still be changed."""
    open_ones = job.bookings.exclude(status__in=SETTLED).chosen()
    return open_ones.select_related("place", "job").order_by("starts_at").last()


def session_to_show(job: Job) -> Booking | None:
    """Return the session that a job's page is about: its last that was not called off.

    Other apps' parts of the page choose the same one; a spare date is none of its own.
    """
    live = job.bookings.live().chosen()
    related = live.select_related("place", "slot_day", "answers", "spare__place")
    return related.order_by("starts_at").last()


def kept_things(booking: Booking) -> KeptThings:
    """Return what a session keeps and who comes; seven queries at most."""
    rows = sorted(things_of(booking), key=_by_category)
    unsure = booking.status == BookingStatus.PROPOSED
    return KeptThings(
        people=tuple(str(row.person) for row in rows if row.person),
        items=tuple(str(row.kit_item) for row in rows if row.kit_item),
        room=next((str(row.room) for row in rows if row.room), ""),
        attendees=tuple(guests_of(booking)),
        clash=clash_sentence(rows) if unsure else "",
        busy="" if booking.status in SETTLED else busy_sentence(rows),
        way="" if booking.status in SETTLED else way_sentence(booking.place, rows),
    )


def _by_category(row: Reservation) -> tuple[str, str, int]:
    item = row.kit_item
    return (item.category, item.name, row.pk) if item else ("", "", row.pk)


def session_gaps(at: datetime, *, ahead: timedelta) -> list[Gap]:
    """Return the held sessions that start soon and lack something. Three queries."""
    near = (
        Booking.objects.holding()
        .chosen()
        .filter(starts_at__gt=at, starts_at__lt=at + ahead, status__in=OPEN_HOLDS)
    )
    near = near.select_related("job__client", "place", "slot_day")
    rows = near.order_by("starts_at", "pk")
    gaps = []
    for booking in rows.prefetch_related("attendees", "reservations"):
        missing = list(_missing(booking))
        if missing:
            url = reverse(missing[0][1], args=missing[0][2])
            words = " and ".join(name for name, _, _ in missing)
            gaps.append(Gap(booking=booking, words=words, url=url))
    return gaps


def usual_hold_until(at: datetime, starts_at: datetime | None = None) -> datetime:
    """Return until when a session is pencilled if nobody says: the end of a day.

    As many days as a client has to pay the deposit, but not past the session's start.
    """
    profile = StudioProfile.load()
    day = at.astimezone(profile.zone).date() + timedelta(days=profile.deposit_days + 1)
    until = datetime.combine(day, time(), tzinfo=profile.zone)
    return until if starts_at is None or starts_at <= at else min(until, starts_at)


def echo_sentence(
    place: Place | None,
    day: date | None,
    span: TimeSpan | None,
    wanted: Iterable[Reservation] = (),
) -> str:
    """Return what the tool makes of a day and times as they are typed.

    "Thursday. Sunrise 07:28, sunset 18:07. Free." or the clash by name.
    """
    if day is None:
        return ""
    parts = [f"{day:%A}"]
    if place:
        parts.append(sun_words(spot_of(place), day))
    sentences = [f"{part}." for part in parts]
    if place and span:
        end = span.end.astimezone(place.zone)
        if end.date() != day:
            sentences.append(f"Ends on {end:%A} at {end:%H:%M}.")
        asked = list(wanted)
        sentences.append(clash_sentence(asked) or _free_words(span, asked))
        sentences.append(way_sentence(place, asked))
        sentences.append(busy_sentence(asked))
    return " ".join(filter(None, sentences))


def _missing(booking: Booking) -> Iterator[tuple[str, str, list[int]]]:
    """Give what is missing: its name, and the page where it is filled in."""
    if not (booking.attendees.all() or hasattr(booking, "slot_day")):
        yield "who comes", "jobs:attendees", [booking.pk]
    kinds = {row.resource.partition(":")[0] for row in booking.reservations.all()}
    if "kit" not in kinds:
        yield "the kit", "jobs:session", [booking.job_id]
    if not booking.place.is_room and not booking.weather_decision:
        yield "who decides on the weather", "jobs:session", [booking.job_id]


def _free_words(span: TimeSpan, wanted: list[Reservation]) -> str:
    """Say that all is free, and what else is on at the same time."""
    others = Booking.objects.holding().during(span).select_related("job")
    if wanted and wanted[0].booking_id:
        others = others.exclude(pk=wanted[0].booking_id)
    titles = [booking.job.title for booking in others[:MOST_SAME_DAY]]
    if not titles:
        return "Free."
    return f"Free, though at the same time there is {' and '.join(titles)}."
