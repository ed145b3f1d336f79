"""What the books ask for on Today."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.urls import reverse

from invoicing.invoices.models import Invoice
from invoicing.periods.calendar import before, period_of
from invoicing.periods.operations import closed_within
from studio.panels import TodayItem, on_today
from studio.people.models import Person
from studio.people.policy import Hat
from studio.profile.models import StudioProfile

LATE_AFTER: Final = timedelta(days=30)


@on_today(action="books.close", hat=Hat.BOOKKEEPER)
def period_to_close(person: Person, at: datetime) -> list[TodayItem]:
    """Name the last period, from its end until it is closed."""
    profile = StudioProfile.load()
    on = at.astimezone(profile.zone).date()
    months = profile.period_months
    now = period_of(on, months=months, first_month=profile.period_first_month)
    last = before(now, months=months)
    if closed_within(last):
        return []
    if not Invoice.objects.filter(tax_point_on__lte=last.last).exists():
        return []
    late = on > last.last + LATE_AFTER
    return [
        TodayItem(
            group="late" if late else "soon",
            title=f"Close {last.name}",
            reason="The period is over and its books are open",
            url=reverse("invoicing:period", args=[last.first.isoformat()]),
            verb="Look and close",
            icon="info",
        )
    ]
