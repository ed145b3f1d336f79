"""What moving or calling off a session touches of what was agreed about money."""

from __future__ import annotations

from django.urls import reverse

from invoicing.quotes.models import Acceptance
from jobs.bookings.models import Booking
from studio.effects import Change, Effect, touches
from studio.wording import money_words


@touches(action="quote.see", order=40)
def accepted_terms(change: Change) -> list[Effect]:
    """Tell the deposit and the notice, beside the words of the terms accepted.

    Nothing is charged by this. Terms are words, with no scale of fees to reckon by.
    """
    booking: Booking = change.booking
    accepted = Acceptance.objects.filter(quote__job_id=booking.job_id)
    yes = accepted.select_related("quote").order_by("-recorded_at").first()
    if yes is None:
        return []
    said = ((yes.quote.snapshot or {}).get("moving_words") or "").strip()
    rule = (
        f"The terms accepted say: “{said}”"
        if said
        else "The terms accepted say nothing of moving or calling off."
    )
    return [
        Effect(
            title="What the client agreed to",
            words=f"Notice: {_notice(booking, change)}. Deposit agreed: "
            f"{money_words(yes.deposit)} of {money_words(yes.total)}. {rule} They give "
            "no scale by days, so no fee is worked out: propose one yourself under "
            "Money. Nothing is charged or paid back by this.",
            url=reverse("invoicing:quote", args=[yes.quote_id]),
            verb="Quote",
        )
    ]


def _notice(booking: Booking, change: Change) -> str:
    left = booking.starts_at - change.at
    if left.total_seconds() <= 0:
        return "none, it has started"
    hours = int(left.total_seconds() // 3600)
    if hours < 48:
        return "1 hour" if hours == 1 else f"{hours} hours"
    return f"{left.days} days"
