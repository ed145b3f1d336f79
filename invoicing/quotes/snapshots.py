"""What a client is shown and says yes to, frozen as plain JSON."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.snapshots import buyer_of, seller_of, totals_json
from invoicing.quotes.models import DepositRule, Quote
from studio.money import Money
from studio.profile.models import StudioProfile

Snapshot = Mapping[str, Any]


def snapshot_of(quote: Quote, *, on: date) -> dict[str, Any]:
    """Return everything that a quote sent on a day says, whatever changes after."""
    profile = StudioProfile.load()
    content = quote.content()
    totals = content.totals()
    total = Money(totals.gross, quote.currency)
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
        "opening_note": quote.opening_note,
        "included": [line for line in quote.included.splitlines() if line.strip()],
        "terms": profile.terms,
        "moving_words": profile.moving_words,
        "weather_words": profile.weather_words,
        "withdrawal_words": profile.withdrawal_words,
    }


def content_of(snapshot: Snapshot, chosen: frozenset[int] = frozenset()) -> Content:
    """Return what is to be paid for under a snapshot, with the extras chosen."""
    content = Content.from_json(snapshot["content"])
    extras = [line for pk, line in extras_of(snapshot) if pk in chosen]
    return replace(content, lines=(*content.lines, *extras))


def extras_of(snapshot: Snapshot) -> list[tuple[int, ContentLine]]:
    """Return the extras that a snapshot offers, each by the number of its line."""
    fields = ContentLine.__dataclass_fields__
    return [
        (written["line"], ContentLine(**{name: written[name] for name in fields}))
        for written in snapshot["extras"]
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
