"""What a client was shown and says yes to, frozen as plain JSON."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from invoicing.invoices.snapshots import buyer_of, seller_of, totals_json
from invoicing.quotes.models import Quote
from studio.money import Money
from studio.profile.models import StudioProfile


def snapshot_of(quote: Quote) -> dict[str, Any]:
    """Return everything that a sent quote says, whatever changes afterwards."""
    profile = StudioProfile.load()
    content = quote.content()
    totals = content.totals()
    total = Money(totals.gross, quote.currency)
    return {
        "format": 1,
        "number": quote.number,
        "version": quote.version,
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
        "deposit_minor": quote.deposit_on(total).minor,
        "deposit_kind": quote.deposit_kind,
        "deposit_percent": quote.deposit_percent,
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


def hash_of(snapshot: dict[str, Any]) -> str:
    """Return the SHA-256 of a snapshot, written in one fixed way."""
    written = json.dumps(snapshot, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()


def _session(quote: Quote) -> dict[str, Any] | None:
    booking = quote.booking
    if booking is None:
        return None
    place = booking.place
    return {
        "starts_at": booking.starts_at.isoformat(),
        "ends_at": booking.ends_at.isoformat(),
        "place_name": place.name,
        "place_address": place.address,
        "meeting_point": place.meeting_point,
        "latitude_deg": place.latitude_deg,
        "longitude_deg": place.longitude_deg,
        "time_zone": place.time_zone,
    }
