"""How late an invoice is, by the ages that a list of debts goes by."""

from __future__ import annotations

from typing import Final

BUCKETS: Final = (
    "Not yet due",
    "1–30 days",
    "31–60 days",
    "61–90 days",
    "Over 90 days",
)
LAST_DAYS: Final = (0, 30, 60, 90)


def bucket_of(days_late: int) -> int:
    """Return the bucket of so many days past due: day 30 is still in the first."""
    for place, last in enumerate(LAST_DAYS):
        if days_late <= last:
            return place
    return len(LAST_DAYS)
