"""What the papers of a session lack before they go out, and where it is mended."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.urls import reverse

from jobs.attending.queries import company_of
from jobs.bookings.models import Booking
from jobs.bookings.states import BookingStatus
from jobs.releases.models import Sitter
from planning.callsheets.people import Paper, recipients_of, unreachable_of
from planning.checklists.offer import Offer
from planning.checklists.queries import checklist_of
from planning.checklists.taking import with_offers
from planning.shoots.choices import Light
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.queries import planned_shoot
from planning.shoots.words import misfit_words
from planning.weather.queries import latest_weather

MOST_NAMES: Final = 60
WEATHER_DUE: Final = timedelta(days=2)
"""How long before a session its weather is worth reading; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Something that the papers will lack, and where it is put right."""

    words: str
    url: str
    verb: str


def missing(
    booking: Booking, *, at: datetime, shoot: PlannedShoot | None = None
) -> tuple[Gap, ...]:
    """Return what the papers of a booking lack, the weightiest first."""
    shoot = shoot or planned_shoot(booking)
    return (
        *_standing(booking),
        *_in_plan(booking, shoot),
        *_in_people(booking),
        *_of_children(booking),
        *_at_place(booking),
        *_of_weather(booking, shoot, at),
        *_in_kit(booking, shoot),
        *_in_releases(booking),
    )


def _standing(booking: Booking) -> Iterator[Gap]:
    job = booking.get_absolute_url()
    if booking.status == BookingStatus.CANCELLED:
        yield Gap(words="The session was cancelled.", url=job, verb="Open job")
    elif booking.status in {BookingStatus.PROPOSED, BookingStatus.PENCILLED}:
        words = "The session is not confirmed yet."
        yield Gap(words=words, url=job, verb="Open job")


def _in_plan(booking: Booking, shoot: PlannedShoot) -> Iterator[Gap]:
    if not shoot.set_ups:
        url = reverse("planning:plan", args=[booking.pk])
        words = "No set-ups: the sheet has no times, settings or dials."
        yield Gap(words=words, url=url, verb="Plan the light")
    for one in shoot.set_ups:
        if words := _trouble(one):
            url = reverse("planning:set_up_edit", args=[one.facts.pk])
            yield Gap(words=words, url=url, verb="Open set-up")


def _trouble(one: PlannedSetUp) -> str:
    called = f"Set-up {one.facts.number}, {_short(one.facts.name)}"
    if one.suggestion is None:
        return f"{called}, has no settings. {one.trouble}".strip()
    misfit = misfit_words(one.suggestion).strip()
    return f"{called}: {misfit[:1].lower()}{misfit[1:]}" if misfit else ""


def _in_people(booking: Booking) -> Iterator[Gap]:
    people = reverse("jobs:attendees", args=[booking.pk])
    for name in unreachable_of(booking):
        words = f"No phone for {_short(name)}."
        yield Gap(words=words, url=people, verb="Open people")
    papers = {one.paper for one in recipients_of(booking)}
    if Paper.SESSION not in papers:
        url = booking.job.client.get_absolute_url()
        words = f"No e-mail for {_short(booking.job.client.addressee)}."
        yield Gap(words=words, url=url, verb="Open client")
    if Paper.SHEET not in papers:
        words = "Nobody of the crew has an e-mail address."
        yield Gap(words=words, url=people, verb="Open people")


def _of_children(booking: Booking) -> Iterator[Gap]:
    company = company_of(booking)
    if company.children and not company.guardian_name:
        names = _short(", ".join(one.name for one in company.children))
        words = f"Nobody is named who answers for {names}."
        url = reverse("jobs:answers", args=[booking.pk])
        yield Gap(words=words, url=url, verb="Say who")


def _at_place(booking: Booking) -> Iterator[Gap]:
    place = booking.place
    url = place.get_absolute_url()
    told = (
        (place.address, "No address for the place."),
        (place.meeting_point, "No meeting point: people won’t know where to wait."),
        (place.parking, "Nothing on parking."),
        (place.access, "Nothing on access: gate, key, stairs."),
        (place.contact_name or place.is_room, "Nobody to ask at the place."),
        (
            place.rain_plan or booking.weather_decision or place.is_room,
            "Nothing on rain.",
        ),
    )
    for value, words in told:
        if not value:
            yield Gap(words=words, url=url, verb="Open place")


def _of_weather(booking: Booking, shoot: PlannedShoot, at: datetime) -> Iterator[Gap]:
    due = booking.starts_at - WEATHER_DUE <= at < booking.ends_at
    outdoors = not booking.place.is_room or any(
        one.facts.light in {Light.OPEN_SKY, Light.OPEN_SHADE} for one in shoot.set_ups
    )
    if due and outdoors and latest_weather(booking) is None:
        words = "No weather is read yet, and the session is within two days."
        url = reverse("planning:weather", args=[booking.pk])
        yield Gap(words=words, url=url, verb="Note the weather")


def _in_kit(booking: Booking, shoot: PlannedShoot) -> Iterator[Gap]:
    found = with_offers(checklist_of(booking, shoot), booking)
    lacking = [one for one in found.lines if one.offer is not None and not one.ticked]
    free = [one.words for one in lacking if one.offer and one.offer.item_id]
    gone = [one.words for one in lacking if one.offer and one.offer.taken_by]
    none = [one.words for one in lacking if one.offer == Offer()]
    url = reverse("planning:checklist", args=[booking.pk])
    told = (
        ("Not reserved: {}.", free),
        ("Out with another session: {}.", gone),
        ("Not among the studio’s kit: {}.", none),
    )
    for words, lines in told:
        if lines:
            yield Gap(words=words.format(", ".join(lines)), url=url, verb="Open kit")


def _in_releases(booking: Booking) -> Iterator[Gap]:
    sitters = Sitter.objects.filter(client=booking.job.client)
    rows = list(sitters.prefetch_related("releases").order_by("name", "pk"))
    if not rows:
        url = reverse("jobs:sitter_new", args=[booking.job.client_id])
        words = "No release is signed for anybody photographed."
        yield Gap(words=words, url=url, verb="Add a sitter")
    coming = {one.name.casefold() for one in booking.attendees.all()}
    named = [one for one in rows if one.name.casefold() in coming]
    for sitter in named or rows:
        if not any(release.signed_at for release in sitter.releases.all()):
            words = f"No release is signed for {_short(sitter.name)}."
            url = sitter.get_absolute_url()
            yield Gap(words=words, url=url, verb="Open sitter")


def _short(name: str) -> str:
    return name if len(name) <= MOST_NAMES else f"{name[:MOST_NAMES].rstrip()}…"
