"""The table of payments."""

from __future__ import annotations

from typing import Any, Final

from django.db.models import (
    BigIntegerField,
    Case,
    F,
    Q,
    QuerySet,
    Value,
    When,
)
from django.utils.html import format_html, format_html_join

from invoicing.lists.columns import Column, Look
from invoicing.lists.listing import Listing, Narrowed, between
from invoicing.payments.models import NO_MONEY, Allocation, Payment
from jobs.clients.models import Client
from studio.templatetags.northsill import mark

_BACK: Final = Q(amount_minor__lt=0)


def rows(data: Narrowed, look: Look) -> QuerySet[Any]:
    """Return the payments that were asked for, each with what it settles."""
    found = _counted(data).filter(_words(data), _kind(data), _show(data))
    if data.get("first"):
        found = found.filter(received_on__gte=data["first"])
    if data.get("last"):
        found = found.filter(received_on__lte=data["last"])
    return between(found, "amount_minor", data.get("least"), data.get("most"))


def _counted(data: Narrowed) -> QuerySet[Any]:
    is_no_money = Q(reversal__isnull=False)
    # Neither brings money: a voucher's came in at its sale. Asked for, they are summed.
    is_no_money |= Q(method__in=[one for one in NO_MONEY if one != data.get("kind")])
    counted = Payment.objects.with_loose().select_related("client", "reversal")
    return counted.with_shares().annotate(
        counted_minor=Case(
            When(is_no_money, then=Value(0)),
            default=F("amount_minor"),
            output_field=BigIntegerField(),
        )
    )


def _show(data: Narrowed) -> Q:
    return {
        "standing": Q(reversal__isnull=True),
        "loose": ~Q(loose_minor=0),
        "reversed": Q(reversal__isnull=False),
        "all": Q(),
    }[data["show"]]


def _kind(data: Narrowed) -> Q:
    kind = data.get("kind")
    if not kind:
        return Q()
    return _BACK if kind == "back" else Q(method=kind)


def _words(data: Narrowed) -> Q:
    found = Q()
    if words := data.get("words"):
        named = Allocation.objects.filter(invoice__number__icontains=words)
        found &= (
            Q(client__name__icontains=words)
            | Q(reference__icontains=words)
            | Q(pk__in=named.values("payment"))
        )
    if data.get("client"):
        found &= Q(client__in=Client.objects.family_of(data["client"]))
    return found


def _for(payment: Any, look: Look) -> str:
    shares = payment.allocations.all()
    if payment.voucher_id and not shares:
        return f"Voucher {payment.voucher_id}"
    if not shares:
        return "No invoice"
    return format_html_join(
        ", ",
        '<a href="{}">{}</a>',
        ((one.invoice.get_absolute_url(), one.invoice.number) for one in shares),
    )


def _client(payment: Any, look: Look) -> str:
    return format_html(
        '<a href="{}">{}</a> <span class="small quiet apart">{}</span>',
        payment.get_absolute_url(),
        payment.client.name,
        payment.reference or payment.get_method_display(),
    )


def _state(payment: Any, look: Look) -> str:
    if hasattr(payment, "reversal"):
        return mark("credit", "Taken back")
    if payment.loose_minor:
        return mark("part", "Partly open" if payment.set_minor else "Open")
    if payment.is_loss:
        return mark("lost", "Written off")
    return mark("paid", "Paid back" if payment.amount_minor < 0 else "Set")


def _state_cell(payment: Any) -> str:
    if hasattr(payment, "reversal"):
        return f"Taken back: {payment.reversal.because}"
    return "Written off" if payment.is_loss else "Counts"


PAYMENTS: Final = Listing(
    slug="payments",
    name="Payments",
    action="money.see",
    rows=rows,
    first_order=("-received_on",),
    first_sort="-on",
    columns=(
        Column(
            key="on",
            name="On",
            value=lambda payment: payment.received_on,
            order="received_on",
            css="phone-d",
        ),
        Column(
            key="client",
            name="Client",
            value=lambda payment: payment.client.name,
            shown=_client,
            order="client__name",
            css="phone-a",
            is_head=True,
        ),
        Column(
            key="method",
            name="How",
            value=lambda payment: payment.get_method_display(),
            order="method",
            css="phone-off",
        ),
        Column(
            key="reference",
            name="Reference",
            value=lambda payment: payment.reference,
            on_page=False,
        ),
        Column(
            key="for",
            name="For",
            value=lambda payment: ", ".join(
                one.invoice.number for one in payment.allocations.all()
            ),
            shown=_for,
            css="phone-e",
        ),
        Column(
            key="amount",
            name="Amount",
            minor="amount_minor",
            order="amount_minor",
            adds="counted_minor",
            css="number strong phone-b",
        ),
        Column(
            key="loose",
            name="Not set yet",
            minor="loose_minor",
            order="loose_minor",
            adds="loose_minor",
            css="number phone-off",
        ),
        Column(
            key="state",
            name="State",
            value=_state_cell,
            shown=_state,
            css="apart-left phone-c",
        ),
    ),
)
