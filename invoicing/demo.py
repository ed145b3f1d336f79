"""The demo's share of money: prices, quotes, yeses, invoices and payments."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from typing import Final

from invoicing.demo_bank import tell_of_the_bank
from invoicing.demo_bookkeeper import tell_of_the_bookkeeper
from invoicing.demo_deals import DEALS, PARTS, PRICES, Deal
from invoicing.demo_purchases import tell_of_purchases
from invoicing.demo_vouchers import tell_of_vouchers
from invoicing.invoices.finishing import finish_document, write_letter
from invoicing.invoices.issuing import issue_invoice
from invoicing.invoices.models import Invoice, InvoiceDraft
from invoicing.invoices.operations import (
    DraftChange,
    change_draft,
    draft_balance_invoice,
)
from invoicing.invoices.staging import draft_stage_invoice
from invoicing.invoices.states import Purpose
from invoicing.invoices.taking_back import credit_invoice
from invoicing.owed.losses import Loss, write_off_debt
from invoicing.payments.operations import (
    Received,
    balance_of,
    receive_deposit,
    record_payment,
)
from invoicing.prices.basis import price_on
from invoicing.prices.licences import licence_words
from invoicing.prices.models import PriceItem, PriceKind
from invoicing.prices.operations import add_price, set_parts
from invoicing.prices.packages import detail_of, package_lines
from invoicing.quotes.accepting import Yes, accept_quote
from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.models import How, Quote
from invoicing.quotes.operations import (
    LineWish,
    QuoteTerms,
    QuoteWish,
    blank_quote,
    start_quote,
)
from invoicing.quotes.queries import order_of
from invoicing.quotes.sending import letter_for, send_quote
from invoicing.quotes.sessions import SessionWish
from jobs.bookings.models import Booking
from jobs.jobs.models import Job
from studio.demo import Scenery, demo_share
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import note_use
from studio.money import Money
from studio.profile.models import DepositKind

WRONG: Final = "Made out to the club’s old treasurer; the right one follows"


@demo_share
def invoicing_share(scenery: Scenery) -> None:
    """Tell of prices, quotes and money.

    Hands on `price.KEY`, `quote.KEY`, `yes.KEY` and `invoice.KEY`.
    """
    scenery.then(-118, "09:30", lambda at: _price(scenery, at))
    tell_of_purchases(scenery)
    tell_of_the_bank(scenery)
    tell_of_the_bookkeeper(scenery)
    tell_of_vouchers(scenery)
    for key, deal in DEALS.items():
        _tell(scenery, key, deal)


def _price(scenery: Scenery, at: datetime) -> None:
    for key, details in PRICES.items():
        item = add_price(details=details, by=scenery.rows["maren"], at=at)
        scenery.rows[f"price.{key}"] = item
    for key, parts in PARTS.items():
        kept = [(scenery.rows[f"price.{one}"].pk, many * 1000) for one, many in parts]
        package = scenery.rows[f"price.{key}"]
        set_parts(package_id=package.pk, parts=kept, by=scenery.rows["maren"], at=at)


def _tell(scenery: Scenery, key: str, deal: Deal) -> None:
    then = scenery.then
    then(deal.quoted, "11:00", lambda at: _quote(scenery, key, deal, at))
    for day in deal.opened:
        then(day, "20:30", lambda at: _open_page(scenery, key, at))
    if deal.said is not None:
        then(deal.said, "21:50", lambda at: _say_yes(scenery, key, deal, at))
    if deal.declined is not None:
        then(deal.declined, "08:15", lambda at: _decline(scenery, key, deal, at))
    if deal.deposit_paid is not None:
        then(deal.deposit_paid, "09:20", lambda at: _take_deposit(scenery, key, at))
    _tell_of_money(scenery, key, deal)


def _tell_of_money(scenery: Scenery, key: str, deal: Deal) -> None:
    then = scenery.then
    if deal.staged is not None:
        day, percent, what = deal.staged
        then(day, "16:20", partial(_stage, scenery, key, percent, what))
    if deal.invoiced is not None:
        then(deal.invoiced, "17:30", lambda at: _invoice(scenery, key, at))
    if deal.credited is not None:
        then(deal.credited, "10:00", lambda at: _credit(scenery, key, at))
        then(deal.credited, "10:15", lambda at: _invoice(scenery, key, at))
    for day, percent in deal.paid:
        then(day, "09:40", partial(_pay, scenery, key, percent))
    if deal.lost is not None:
        then(deal.lost, "10:40", lambda at: _write_off(scenery, key, at))


def _quote(scenery: Scenery, key: str, deal: Deal, at: datetime) -> None:
    rows = scenery.rows
    job: Job = rows[f"job.{key}"]
    by = rows[deal.by]
    blank = blank_quote(job, by=by, at=at)
    wish = QuoteWish(
        terms=_terms(scenery, deal, at),
        lines=_lines(scenery, deal, blank),
        session=_session(rows.get(f"booking.{key}")),
    )
    quote = start_quote(job=job, by=by, at=at, wish=wish)
    if deal.is_sent:
        quote = send_quote(
            quote_id=quote.pk, letter=letter_for(quote), by=rows["maren"], at=at
        )
    rows[f"quote.{key}"] = quote


def _terms(scenery: Scenery, deal: Deal, at: datetime) -> QuoteTerms:
    return QuoteTerms(
        valid_until_on=(at + timedelta(days=deal.holds)).date(),
        opening_note=deal.note,
        included=deal.included,
        discount_percent_hundredths=deal.discount_percent * 100,
        discount_reason=deal.discount_reason,
        planned_minutes=deal.minutes,
        deposit_kind=DepositKind.PERCENT,
        deposit_percent=deal.deposit_percent,
        deposit_days=7,
        payment_days=deal.payment_days,
    )


def _lines(scenery: Scenery, deal: Deal, quote: Quote) -> Sequence[LineWish]:
    packages = [line for key in deal.packages for line in _package(scenery, key, quote)]
    wanted = [(key, count, False) for key, count in deal.lines]
    wanted += [(key, 1, True) for key in deal.extras]
    lines = [
        _line(scenery, scenery.rows[f"price.{key}"], quote, count, optional=optional)
        for key, count, optional in wanted
    ]
    if deal.treatment:  # what bears no tax is quoted without it
        lines = [replace(line, tax_rate_basis_points=0) for line in lines]
    return [*lines, *packages]


def _package(scenery: Scenery, key: str, quote: Quote) -> list[LineWish]:
    item: PriceItem = scenery.rows[f"price.{key}"]
    return [
        LineWish(
            description=item.name,
            detail=detail_of(item, line),
            unit=item.unit,
            unit_price_minor=line.price_minor,
            tax_rate_basis_points=line.rate,
            cost_minor=line.cost_minor,
            package=item.name,
        )
        for line in package_lines(item, quote.basis, scenery.rows["profile"])
    ]


def _line(
    scenery: Scenery, item: PriceItem, quote: Quote, count: int, *, optional: bool
) -> LineWish:
    profile = scenery.rows["profile"]
    return LineWish(
        description=item.name,
        detail=_detail(item),
        unit=item.unit,
        quantity_thousandths=count * 1000,
        unit_price_minor=price_on(item, quote.basis, profile),
        tax_rate_basis_points=item.rate_under(profile),
        cost_minor=item.cost_minor,
        optional=optional,
        licence_months=item.licence_months,
    )


def _detail(item: PriceItem) -> str:
    if item.kind != PriceKind.LICENCE:
        return item.detail
    return licence_words(
        who=item.licence_who, where=item.licence_where, months=item.licence_months
    )


def _session(booking: Booking | None) -> SessionWish | None:
    if booking is None:
        return None
    return SessionWish(
        place=booking.place,
        starts_at=booking.starts_at,
        ends_at=booking.ends_at,
        booking_version=booking.version,
    )


def _open_page(scenery: Scenery, key: str, at: datetime) -> None:
    quote = scenery.rows[f"quote.{key}"]
    link = PrivateLink.objects.of(LinkPurpose.QUOTE, quote.pk).latest("pk")
    note_use(link, at=at)


def _say_yes(scenery: Scenery, key: str, deal: Deal, at: datetime) -> None:
    quote: Quote = scenery.rows[f"quote.{key}"]
    named = {scenery.rows[f"price.{one}"].name for one in deal.ticked}
    chosen = quote.lines.filter(optional=True, description__in=named)
    yes = Yes(
        name=deal.signed,
        how=deal.how,
        chosen=frozenset(chosen.values_list("pk", flat=True)),
        may_show_pictures=deal.shows,
        said_at=None if deal.how is How.PAGE else at - timedelta(hours=3),
    )
    by = None if deal.how is How.PAGE else scenery.rows["maren"]
    scenery.rows[f"yes.{key}"] = accept_quote(quote_id=quote.pk, yes=yes, at=at, by=by)


def _decline(scenery: Scenery, key: str, deal: Deal, at: datetime) -> None:
    quote: Quote = scenery.rows[f"quote.{key}"]
    no = No(reason=deal.reason, words=deal.words)
    decline_quote(quote_id=quote.pk, no=no, at=at)


def _take_deposit(scenery: Scenery, key: str, at: datetime) -> None:
    job: Job = scenery.rows[f"job.{key}"]
    draft = InvoiceDraft.objects.get(
        job=job, purpose=Purpose.DEPOSIT, dropped_at__isnull=True
    )
    yes = scenery.rows[f"yes.{key}"]
    money = _received(key, yes.deposit_minor, yes.content["currency"], at)
    receive_deposit(draft_id=draft.pk, money=money, by=scenery.rows["edda"], at=at)
    _finish(job.invoices.get(purpose=Purpose.DEPOSIT), at)


def _stage(scenery: Scenery, key: str, percent: int, what: str, at: datetime) -> None:
    yes, edda = scenery.rows[f"yes.{key}"], scenery.rows["edda"]
    minor = Money.from_minor(yes.total_minor, yes.content["currency"]).share(percent)
    draft = draft_stage_invoice(
        order=order_of(yes), minor=minor.minor, what=what, by=edda, at=at
    )
    _finish(issue_invoice(draft_id=draft.pk, by=edda, at=at), at)


def _invoice(scenery: Scenery, key: str, at: datetime) -> None:
    edda = scenery.rows["edda"]
    order = order_of(scenery.rows[f"yes.{key}"])
    draft = draft_balance_invoice(order=order, by=edda, at=at)
    if treatment := DEALS[key].treatment:
        change = DraftChange(
            lines=draft.read_content.lines,
            due_days=draft.due_days,
            note=draft.note,
            treatment=treatment,
        )
        draft = change_draft(
            draft_id=draft.pk, change=change, version=draft.version, by=edda, at=at
        )
    invoice = issue_invoice(draft_id=draft.pk, by=edda, at=at)
    _finish(invoice, at)
    scenery.rows[f"invoice.{key}"] = invoice


def _credit(scenery: Scenery, key: str, at: datetime) -> None:
    wrong: Invoice = scenery.rows[f"invoice.{key}"]
    note = credit_invoice(
        invoice_id=wrong.pk, because=WRONG, by=scenery.rows["edda"], at=at
    )
    _finish(note, at)


def _pay(scenery: Scenery, key: str, percent: int, at: datetime) -> None:
    invoice: Invoice = scenery.rows[f"invoice.{key}"]
    minor = invoice.gross.share(percent).minor
    money = _received(f"{key}-rest", minor, invoice.currency, at)
    record_payment(
        money=money, shares={invoice.pk: minor}, by=scenery.rows["edda"], at=at
    )


def _write_off(scenery: Scenery, key: str, at: datetime) -> None:
    invoice: Invoice = scenery.rows[f"invoice.{key}"]
    loss = Loss(
        amount_minor=balance_of(invoice),
        lost_on=at.date(),
        because="Kept by the banks on the way; not worth a letter",
        form_key=f"demo-{key}-lost",
    )
    write_off_debt(invoice_id=invoice.pk, loss=loss, by=scenery.rows["edda"], at=at)


def _received(key: str, minor: int, currency: str, at: datetime) -> Received:
    return Received(
        amount_minor=minor,
        currency=currency,
        received_on=at.date(),
        reference=key.upper(),
        form_key=f"demo-{key}",
    )


def _finish(invoice: Invoice, at: datetime) -> None:
    write_letter(invoice, at=at)
    finish_document(invoice_id=invoice.pk, at=at)
