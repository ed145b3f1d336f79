"""Lines that the builder proposes from the price list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from invoicing.prices.basis import price_on
from invoicing.prices.licences import licence_words
from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.packages import detail_of, package_lines
from invoicing.prices.rates import DatedRates
from invoicing.prices.travel import Fare, Trip, fare_for, trip_to
from invoicing.quotes.line_forms import LineDesk
from invoicing.quotes.models import Quote
from invoicing.quotes.sessions import SessionWish
from studio.money import decimal_from_minor, exponent
from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """A line as the price list proposes it; `source` is where its cost stands."""

    description: str
    price_minor: int
    rate: int
    source: str
    detail: str = ""
    quantity: str = "1"
    unit: str = ""
    cost_minor: int = 0
    optional: bool = False
    package: str = ""
    licence_months: int | None = None

    def posted(self, row: str, desk: LineDesk) -> dict[str, str]:
        """Return the line as the fields of a row would post it."""
        digits = exponent(desk.currency)
        posted = {
            f"{row}-description": self.description,
            f"{row}-detail": self.detail,
            f"{row}-quantity": self.quantity,
            f"{row}-unit": self.unit,
            f"{row}-price": str(decimal_from_minor(self.price_minor, digits)),
            f"{row}-rate": str(self.rate),
            f"{row}-source": self.source,
            f"{row}-package": self.package,
            f"{row}-licence_months": str(self.licence_months or ""),
        }
        if desk.shows_costs and self.cost_minor:
            posted[f"{row}-cost"] = str(decimal_from_minor(self.cost_minor, digits))
        if self.optional:
            posted[f"{row}-optional"] = "on"
        return posted


@dataclass(frozen=True, slots=True, kw_only=True)
class Journey:
    """The way to a session and the price of the list that fits it, if one does."""

    trip: Trip
    fare: Fare | None


def proposed_from(item: PriceItem, quote: Quote, *, on: date) -> list[Proposed]:
    """Return a price of the list as lines: a package may be several, by tax rate.

    The rate of tax is the one in force on a day.
    """
    profile, rates = StudioProfile.load(), DatedRates.load()
    if item.kind == PriceKind.PACKAGE:
        made = _of_package(item, quote, profile)
    else:
        made = [_of_item(item, quote, profile)]
    return [replace(line, rate=rates.on(line.rate, on)) for line in made]


def offered_as_package(lines: Iterable[Proposed], name: str) -> list[Proposed]:
    """Return lines as those of one package among several to choose from."""
    return [replace(line, package=name, optional=False) for line in lines]


def proposed_travel(journey: Journey, quote: Quote, *, on: date) -> list[Proposed]:
    """Return the line of a journey; nothing where no price fits."""
    if journey.fare is None:
        return []
    (line,) = proposed_from(journey.fare.item, quote, on=on)
    quantity = str(journey.fare.quantity)
    detail = line.detail or f"{journey.trip.words[0].upper()}{journey.trip.words[1:]}"
    return [replace(line, quantity=quantity, detail=detail)]


def journey_to(session: SessionWish | None) -> Journey | None:
    """Return the way to a session's place; None without one, or at home."""
    if session is None:
        return None
    trip = trip_to(session.place, StudioProfile.load())
    if trip is None:
        return None
    bands = PriceItem.objects.offered().filter(kind=PriceKind.TRAVEL)
    return Journey(trip=trip, fare=fare_for(trip.distance, bands))


def _of_item(item: PriceItem, quote: Quote, profile: StudioProfile) -> Proposed:
    detail = item.detail
    if item.kind == PriceKind.LICENCE:
        words = licence_words(
            who=item.licence_who, where=item.licence_where, months=item.licence_months
        )
        detail = f"{detail}. {words}" if detail else f"{words[0].upper()}{words[1:]}"
    return Proposed(
        description=item.name,
        detail=detail,
        unit=item.unit,
        price_minor=price_on(item, quote.basis, profile),
        rate=item.rate_under(profile),
        source=f"P{item.pk}",
        cost_minor=item.cost_minor,
        optional=item.is_extra,
        licence_months=item.licence_months,
    )


def _of_package(
    item: PriceItem, quote: Quote, profile: StudioProfile
) -> list[Proposed]:
    lines = package_lines(item, quote.basis, profile)
    return [
        Proposed(
            description=item.name if place == 0 else f"{item.name}, other rate of tax",
            detail=detail_of(item, line) if place == 0 else line.words,
            unit=item.unit,
            price_minor=line.price_minor,
            rate=line.rate,
            source=f"P{item.pk}.{place}",
            cost_minor=line.cost_minor,
            optional=item.is_extra,
        )
        for place, line in enumerate(lines)
    ]
