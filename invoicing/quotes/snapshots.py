"""What a client is shown and says yes to, frozen as plain JSON."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.snapshots import buyer_of, seller_of, totals_json
from invoicing.quotes.models import DepositRule, Quote
from invoicing.tax import Totals
from studio.money import Money
from studio.profile.models import StudioProfile

Snapshot = Mapping[str, Any]


def snapshot_of(quote: Quote, *, on: date) -> dict[str, Any]:
    """Return everything that a quote sent on a day says, whatever changes after."""
    profile = StudioProfile.load()
    content = quote.content()
    totals, total = _lowest(quote)
    return {
        "format": 1,
        "number": quote.number,
        "version": quote.version,
        "quoted_on": on.isoformat(),
        "has_page": bool(profile.public_address),
        "yes_confirms": profile.acceptance_confirms,
        "seller": seller_of(profile),
        "buyer": buyer_of(quote.job.client),
        "title": quote.job.title,
        "session": _session(quote),
        "content": content.to_json(),
        "packages": [
            {"name": name, "lines": [line.to_json() for line in _own(quote, name)]}
            for name in quote.package_names
        ],
        "extras": [
            {"line": line.pk, **line.content().to_json()}
            for line in quote.lines.all()
            if line.optional
        ],
        "totals": totals_json(totals),
        "total_minor": total.minor,
        "deposit_minor": quote.deposit.on(total).minor,
        "deposit_kind": quote.deposit_kind,
        "deposit_percent": quote.deposit_percent,
        "deposit_fixed_minor": quote.deposit_minor,
        "deposit_days": quote.deposit_days,
        "payment_days": quote.payment_days,
        "valid_until_on": quote.valid_until_on.isoformat(),
        "pictures_by_on": (
            quote.pictures_by_on.isoformat() if quote.pictures_by_on else None
        ),
        "discount_reason": quote.discount_reason,
        "opening_note": quote.opening_note,
        "included": [line for line in quote.included.splitlines() if line.strip()],
        "terms": profile.terms,
        "moving_words": profile.moving_words,
        "weather_words": profile.weather_words,
        "withdrawal_words": profile.withdrawal_words,
    }


@dataclass(frozen=True, slots=True)
class Choice:
    """What a client chose: extras by line, and a package by its place, from 1 on."""

    extras: frozenset[int] = frozenset()
    package: int | None = None

    def to_json(self, snapshot: Snapshot) -> dict[str, Any]:
        """Return the choice as it is kept with the yes; only what was on offer."""
        offered = [pk for pk, _ in extras_of(snapshot)]
        name = package_of(snapshot, self.package).name if self.package else ""
        return {
            "package": self.package,
            "package_name": name,
            "extras": [pk for pk in offered if pk in self.extras],
        }

    @classmethod
    def from_json(cls, written: Mapping[str, Any]) -> Choice:
        """Read a choice that `to_json` wrote."""
        return cls(frozenset(written["extras"]), written["package"])


NOTHING: Final = Choice()


@dataclass(frozen=True, slots=True)
class OfferedPackage:
    """One of the packages that a snapshot lets the client choose from."""

    place: int
    name: str
    lines: tuple[ContentLine, ...]


def content_of(snapshot: Snapshot, choice: Choice = NOTHING) -> Content:
    """Return what is to be paid for under a snapshot, with what was chosen."""
    content = Content.from_json(snapshot["content"])
    extras = [line for pk, line in extras_of(snapshot) if pk in choice.extras]
    package = choice.package and package_of(snapshot, choice.package).lines
    return replace(content, lines=(*content.lines, *(package or ()), *extras))


def packages_of(snapshot: Snapshot) -> list[OfferedPackage]:
    """Return the packages that a snapshot lets the client choose from; often none."""
    return [
        OfferedPackage(
            place=place,
            name=written["name"],
            lines=tuple(ContentLine(**line) for line in written["lines"]),
        )
        for place, written in enumerate(snapshot.get("packages", ()), start=1)
    ]


def package_of(snapshot: Snapshot, place: int) -> OfferedPackage:
    """Return the package at a place; LookupError where there is none."""
    found = [one for one in packages_of(snapshot) if one.place == place]
    if not found:
        raise LookupError(f"no package {place}")
    return found[0]


def lowest_choice(snapshot: Snapshot) -> Choice:
    """Return the choice that costs least: no extras, and the cheapest package."""
    choices = [Choice(package=one.place) for one in packages_of(snapshot)]
    return min(
        choices or [NOTHING],
        key=lambda choice: content_of(snapshot, choice).totals().gross,
    )


def extras_of(snapshot: Snapshot) -> list[tuple[int, ContentLine]]:
    """Return the extras that a snapshot offers, each by the number of its line."""
    fields = ContentLine.__dataclass_fields__
    return [
        (written["line"], ContentLine(**{name: written[name] for name in known}))
        for written in snapshot["extras"]
        for known in [fields.keys() & written.keys()]
    ]


def deposit_of(snapshot: Snapshot, total: Money) -> Money:
    """Return the deposit that a snapshot asks for on a total."""
    rule = DepositRule(
        kind=snapshot["deposit_kind"],
        percent=snapshot["deposit_percent"],
        minor=snapshot["deposit_fixed_minor"],
    )
    return rule.on(total)


def hash_of(written: Snapshot) -> str:
    """Return the SHA-256 of plain JSON, written in one fixed way."""
    text = json.dumps(written, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _own(quote: Quote, package: str) -> list[ContentLine]:
    lines = quote.lines.all()
    return [line.content() for line in lines if line.package == package]


def _lowest(quote: Quote) -> tuple[Totals, Money]:
    every = [content.totals() for _, content in quote.contents()]
    totals = min(every, key=lambda one: one.gross)
    return totals, Money(totals.gross, quote.currency)


def _session(quote: Quote) -> dict[str, Any] | None:
    booking = quote.booking
    if booking is None:
        return None
    place = booking.place
    return {
        "booking": booking.pk,
        "starts_at": booking.starts_at.isoformat(),
        "ends_at": booking.ends_at.isoformat(),
        "place": place.pk,
        "place_name": place.name,
        "place_address": place.address,
        "meeting_point": place.meeting_point,
        "is_room": place.is_room,
        "latitude_deg": place.latitude_deg,
        "longitude_deg": place.longitude_deg,
        "time_zone": place.time_zone,
    }
