"""What can be done about one thing that is asked for and not held."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.bookings.models import Booking


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """An item that is free to take, or who has it; neither: the studio owns none."""

    item_id: int | None = None
    item_name: str = ""
    taken_by: Booking | None = None
