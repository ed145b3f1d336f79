"""What the owner may want to know before a quote goes out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from typing import Final

from invoicing.prices.basis import price_on
from invoicing.prices.models import PriceItem
from invoicing.prices.rates import DatedRates
from invoicing.prices.travel import KM_IN_A_MILE
from invoicing.quotes.light_words import clocks, light_note, span_words
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import LineWish
from invoicing.quotes.sessions import SessionWish
from jobs.bookings.holding import clash_sentence
from jobs.bookings.models import Booking
from jobs.diary.daylight import Spot, events_on
from jobs.places.distances import distance_km
from jobs.places.models import Place
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan
from studio.wording import long_date, money_words, plain_number

MOST_SAME_DAY: Final = 3


@dataclass(frozen=True, slots=True)
class Note:
    """One thing worth a look: what, and why."""

    title: str
    words: str


def worth_a_look(
    quote: Quote, lines: Iterable[LineWish], session: SessionWish | None
) -> list[Note]:
    """Return notes on a quote as it is typed: its light, its day, its prices."""
    notes: list[Note] = []
    if session:
        notes += _about_light(session)
        notes += _about_day(session, quote.booking)
    typed = list(lines)
    return [*notes, *_below_list(quote, typed), *_about_rates(typed, session)]


def spot_of(place: Place) -> Spot:
    """Return a place as the day's light wants it."""
    return Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )


def _about_light(session: SessionWish) -> list[Note]:
    place, spot = session.place, spot_of(session.place)
    if place.is_room:
        return []
    start, end = (
        at.astimezone(place.zone) for at in (session.starts_at, session.ends_at)
    )
    day = events_on(spot, start.date())
    if day.sunset and start < day.sunset < end:
        dark = span_words(end - day.sunset)
        sunset = day.sunset.astimezone(place.zone)
        words = f"Sunset {sunset:%H:%M}; the last {dark} are dusk. Say so in the note."
        return [Note("Sun sets inside the session", words)]
    if day.sunset and day.sunrise and (end <= day.sunrise or start >= day.sunset):
        return [Note("The session is in the dark", light_note(spot, start, end))]
    if day.sunset is None and day.sun_state == "always down":
        return [Note("The session is in the dark", "The sun does not rise that day.")]
    return []


def _about_day(session: SessionWish, booking: Booking | None) -> list[Note]:
    notes: list[Note] = []
    if booking and not booking.is_holding:
        wanted = booking.reservations.select_related("person", "kit_item", "room")
        if sentence := clash_sentence(wanted):
            notes.append(Note("Something is taken", sentence))
    place = session.place
    start = session.starts_at.astimezone(place.zone)
    midnight = start.replace(hour=0, minute=0, second=0, microsecond=0)
    span = TimeSpan(midnight, midnight + timedelta(days=1))
    others = Booking.objects.holding().during(span).select_related("job", "place")
    if booking:
        others = others.exclude(pk=booking.pk)
    notes += [_same_day(session, other) for other in others[:MOST_SAME_DAY]]
    end = session.ends_at.astimezone(place.zone)
    if end.date() != start.date():
        notes.append(
            Note("It runs past midnight", f"It ends on {end:%A} at {end:%H:%M}.")
        )
    return notes


def _same_day(session: SessionWish, other: Booking) -> Note:
    where = clocks(other.local_start, other.local_end)
    words = f"{other.job.title} is {where}, {_apart(session.place, other.place)}."
    if other.ends_at <= session.starts_at:
        between = session.starts_at - other.ends_at
    elif session.ends_at <= other.starts_at:
        between = other.starts_at - session.ends_at
    else:
        return Note("The times overlap", words)
    return Note("Same day", f"{words} {span_words(between)} lie between.")


def _apart(here: Place, there: Place) -> str:
    if here.pk == there.pk:
        return "at the same place"
    miles = distance_km(here, there) / KM_IN_A_MILE
    return "close by" if miles < 1 else f"{miles:.0f} miles off in a straight line"


def _about_rates(lines: Iterable[LineWish], session: SessionWish | None) -> list[Note]:
    if session is None:
        return []
    rates = DatedRates.load()
    day = session.starts_at.astimezone(session.place.zone).date()
    notes: list[Note] = []
    for rate in dict.fromkeys(line.tax_rate_basis_points for line in lines):
        if change := rates.last_change(rate, day):
            was, becomes = (
                plain_number(Decimal(one) / 100) for one in (rate, change.becomes)
            )
            words = (
                f"From {long_date(change.from_on)}, {was}% becomes {becomes}%, before "
                "this session. Which of them applies is for local law."
            )
            notes.append(Note("A rate of tax changes", words))
    return notes


def _below_list(quote: Quote, lines: Iterable[LineWish]) -> list[Note]:
    profile = StudioProfile.load()
    listed = {item.name: item for item in PriceItem.objects.offered()}
    notes: list[Note] = []
    for line in lines:
        item = listed.get(line.description)
        usual = price_on(item, quote.basis, profile) if item else 0
        if line.unit_price_minor < usual:
            mine, full = (
                money_words(Money.from_minor(minor, quote.currency))
                for minor in (line.unit_price_minor, usual)
            )
            words = f"“{line.description}” at {mine}; your price list says {full}."
            notes.append(Note("Price is below your list", words))
    return notes
