"""Questions about quotes, answered with plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from invoicing.invoices.content import Content, Order
from invoicing.prices.models import PriceItem
from invoicing.prices.operations import price_on
from invoicing.quotes.accepting import order_of
from invoicing.quotes.models import Acceptance, Quote
from jobs.bookings.holding import clash_sentence
from jobs.bookings.models import Booking
from jobs.diary.daylight import Spot, events_on
from jobs.jobs.models import Job
from studio.links.models import LinkPurpose, PrivateLink
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import money_words


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteFigures:
    """A quote's sums as its pages show them."""

    before_tax: Money
    tax: Money
    discount: Money
    total: Money
    deposit: Money
    rest: Money
    costs: Money
    left: Money
    amounts: tuple[Money, ...]
    taxed: bool


def accepted_order(*, job_id: int) -> Order | None:
    """Return what a job's client agreed to, if there was a yes."""
    accepted = Acceptance.objects.filter(quote__job_id=job_id)
    last = accepted.select_related("quote").order_by("-accepted_at").first()
    return order_of(last) if last else None


def figures_of(quote: Quote, chosen: frozenset[int] = frozenset()) -> QuoteFigures:
    """Return a quote's sums, with the extras that were chosen."""
    kept = [line for line in quote.lines.all() if not line.optional]
    costs = sum(line.cost_minor for line in kept)
    return figures_from(quote, quote.content(chosen), costs)


def figures_from(quote: Quote, content: Content, cost_minor: int) -> QuoteFigures:
    """Return the sums of some content under a quote's terms."""
    totals = content.totals()
    currency = quote.currency
    total = Money(totals.gross, currency)
    deposit = quote.deposit_on(total)
    before_tax = Money(totals.net, currency)
    costs = Money.from_minor(cost_minor, currency)
    return QuoteFigures(
        before_tax=before_tax,
        tax=Money(totals.tax, currency),
        discount=Money(totals.allowance_total, currency),
        total=total,
        deposit=deposit,
        rest=total - deposit,
        costs=costs,
        left=before_tax - costs,
        amounts=tuple(Money(net, currency) for net in totals.line_nets),
        taxed=StudioProfile.load().tax_registered,
    )


def worth_a_look(quote: Quote) -> list[tuple[str, str]]:
    """Return what the owner may want to know before a quote goes out."""
    notes: list[tuple[str, str]] = []
    if quote.booking is not None:
        notes += _about_session(quote.booking)
    notes += _below_list(quote)
    return notes


def _about_session(booking: Booking) -> list[tuple[str, str]]:
    notes: list[tuple[str, str]] = []
    place, start, end = booking.place, booking.local_start, booking.local_end
    spot = spot_of(booking)
    sunset = events_on(spot, start.date()).sunset
    if sunset and booking.starts_at < sunset < booking.ends_at:
        minutes = int((booking.ends_at - sunset).total_seconds() // 60)
        local = sunset.astimezone(place.zone)
        notes.append(
            (
                "Sun sets inside the session",
                f"Sunset {local:%H:%M}; the last {minutes} minutes are dusk. Say so in "
                "the note.",
            )
        )
    wanted = booking.reservations.select_related("person", "kit_item", "room")
    if sentence := clash_sentence(wanted):
        notes.append(("Something is taken", sentence))
    same_day = Booking.objects.holding().exclude(pk=booking.pk).select_related("job")
    notes += [
        (
            "Another session at that time",
            f"{other.job.title}, {other.get_status_display().lower()}.",
        )
        for other in same_day.during(booking.span)[:3]
    ]
    if end.date() != start.date():
        notes.append(("It runs past midnight", f"It ends on {end:%A} at {end:%H:%M}."))
    return notes


def _below_list(quote: Quote) -> list[tuple[str, str]]:
    profile = StudioProfile.load()
    listed = {item.name: item for item in PriceItem.objects.offered()}
    notes: list[tuple[str, str]] = []
    for line in quote.lines.all():
        item = listed.get(line.description)
        if item is None:
            continue
        usual = price_on(item, quote.basis, profile)
        if line.unit_price_minor < usual:
            mine = Money.from_minor(line.unit_price_minor, quote.currency)
            full = Money.from_minor(usual, quote.currency)
            notes.append(
                (
                    f"“{line.description}” is below your list",
                    f"{money_words(mine)} each; your price list says "
                    f"{money_words(full)}.",
                )
            )
    return notes


def spot_of(booking: Booking) -> Spot:
    """Return a session's place as day strips want it."""
    place = booking.place
    return Spot(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
    )


def quotes_of(job: Job) -> list[Quote]:
    """Return a job's quotes, the newest version first, with what pages need."""
    quotes = Quote.objects.of_job(job).select_related("acceptance", "drafted_by")
    return list(quotes.prefetch_related("lines"))


def waiting_for_yes(*, on: date) -> list[Quote]:
    """Return the sent quotes, the one whose price lapses first leading."""
    sent = Quote.objects.sent().filter(valid_until_on__gte=on)
    return list(sent.select_related("job__client").order_by("valid_until_on"))


def opened_at(quote: Quote) -> datetime | None:
    """Return when a quote's private page was first opened."""
    links = PrivateLink.objects.of(LinkPurpose.QUOTE, quote.pk)
    first = links.exclude(first_used_at=None).order_by("first_used_at").first()
    return first.first_used_at if first else None
