"""Pages that sell vouchers, show what is outstanding, and redeem them."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from invoicing.invoices.models import Invoice
from invoicing.lists.currencies import currency_tabs
from invoicing.payments.forms import SendForm
from invoicing.payments.operations import balance_of
from invoicing.payments.receipts import send_paper
from invoicing.payments.views import received_of, tell_of, today
from invoicing.periods.forms import tell_refusal
from invoicing.vouchers.documents import print_voucher
from invoicing.vouchers.forms import DayForm, RedeemForm, SaleForm
from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import (
    Redeeming,
    erase_words,
    redeem_voucher,
    sell_voucher,
)
from invoicing.vouchers.queries import outstanding, redemptions, sale_of
from studio.errors import DomainError
from studio.files.operations import store_file
from studio.http import download, staff
from studio.money import Money
from studio.people.access import may
from studio.people.policy import actions_of
from studio.profile.models import StudioProfile
from studio.wording import money_words

TWO_YEARS: Final = timedelta(days=730)
PDF: Final = "application/pdf"


@may("money.see")
@require_safe
def vouchers(request: HttpRequest) -> HttpResponse:
    """Show the vouchers sold by a day in a currency, and what was left on them then."""
    form = DayForm({"on": f"{today():%Y-%m-%d}"} | request.GET.dict())
    on: date = (form.is_valid() and form.cleaned_data["on"]) or today()
    own = StudioProfile.load().currency
    by_currency = outstanding(on=on, own=own)
    wanted = request.GET.get("currency", "")
    found = by_currency.get(wanted, by_currency[own])
    shown = found.total.currency
    sums = [one.total for one in by_currency.values() if one.rows or one is found]
    context = {
        "form": form,
        "found": found,
        "currency": shown,
        "tabs": currency_tabs(sums, shown),
    }
    return render(request, "invoicing/vouchers/vouchers.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def voucher_sell(request: HttpRequest) -> HttpResponse:
    """Sell a voucher for money that came in."""
    form = SaleForm(
        request.POST if request.method == "POST" else None,
        profile=StudioProfile.load(),
        initial={"received_on": today(), "valid_until_on": today() + TWO_YEARS},
    )
    if form.is_valid():
        try:
            sold = sell_voucher(
                client_id=form.cleaned_data["client"].pk,
                money=received_of(form),
                gift=form.gift(),
                by=staff(request).user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, "The voucher is sold.")
            return redirect(sold)
    return render(request, "invoicing/vouchers/sell.html", {"form": form})


@may("money.see")
@require_safe
def voucher(request: HttpRequest, voucher_id: int) -> HttpResponse:
    """Show one voucher: its code, what is left, where it was spent."""
    found = get_object_or_404(Voucher.objects.select_related("client"), pk=voucher_id)
    context = {
        "voucher": found,
        "sale": sale_of(found),
        "is_over": found.is_over(today()),
        "is_done": found.is_done(today()),
        "redemptions": redemptions(found),
    }
    return render(request, "invoicing/vouchers/voucher.html", context)


@may("voucher.erase")
@require_http_methods(["GET", "POST"])
def voucher_erase(request: HttpRequest, voucher_id: int) -> HttpResponse:
    """Ask once more, then empty for whom a voucher was and its greeting."""
    found = get_object_or_404(Voucher, pk=voucher_id)
    if request.method == "POST":
        try:
            erase_words(
                voucher_id=found.pk,
                by=staff(request).user,
                at=timezone.now(),
                on=today(),
            )
            messages.success(request, "Its words are erased. Its sums stay.")
        except DomainError as refusal:
            messages.error(request, str(refusal))
        return redirect(found)
    return render(request, "invoicing/vouchers/erase.html", {"voucher": found})


@may("money.see")
@require_safe
def voucher_pdf(request: HttpRequest, voucher_id: int) -> HttpResponse:
    """Give the card's bytes, made from what was frozen when it was sold."""
    found = get_object_or_404(Voucher, pk=voucher_id)
    content = print_voucher(found, StudioProfile.load())
    return download(name=_file_name(found), content_type=PDF, content=content)


@may("invoice.send")
@require_http_methods(["GET", "POST"])
def voucher_send(request: HttpRequest, voucher_id: int) -> HttpResponse:
    """Show the letter that takes the voucher to its buyer, and send it as edited."""
    found = get_object_or_404(Voucher.objects.select_related("client"), pk=voucher_id)
    form = SendForm(
        request.POST if request.method == "POST" else None, initial=_words(found)
    )
    if form.is_valid():
        at = timezone.now()
        content = print_voucher(found, StudioProfile.load())
        file = store_file(
            name=_file_name(found), content_type=PDF, content=content, at=at
        )
        send_paper(
            about=found,
            file=file,
            said=form.cleaned_data | {"name": found.client.addressee},
            by=staff(request).user,
            at=at,
        )
        messages.success(request, "The voucher is in the outbox.")
        return redirect(found)
    context = {
        "form": form,
        "about": found,
        "about_name": str(found),
        "title": "Send the voucher",
        "paper": "invoicing:voucher_pdf",
    }
    return render(request, "invoicing/payments/send.html", context)


@may("payment.record")
@require_http_methods(["GET", "POST"])
def voucher_redeem(request: HttpRequest, invoice_id: int) -> HttpResponse:
    """Pay an invoice by a voucher, in whole or in part."""
    found = get_object_or_404(
        Invoice.objects.invoices().select_related("client", "job"), pk=invoice_id
    )
    balance = Money.from_minor(max(balance_of(found), 0), found.currency)
    user = staff(request).user
    form = RedeemForm(
        request.POST if request.method == "POST" else None,
        currency=found.currency,
        may_honour="voucher.honour" in actions_of(user.hats),
        initial={"amount": balance, "on": today()},
    )
    if form.is_valid():
        try:
            receipt = redeem_voucher(
                voucher_id=form.cleaned_data["code"].pk,
                wish=_wish(form, found),
                by=user,
                at=timezone.now(),
            )
        except DomainError as refusal:
            tell_refusal(form, refusal, day="on")
        else:
            tell_of(request, receipt, "The voucher is redeemed.")
            return redirect(found)
    context = {"invoice": found, "balance": balance, "form": form}
    return render(request, "invoicing/vouchers/redeem.html", context)


def _wish(form: RedeemForm, invoice: Invoice) -> Redeeming:
    data = form.cleaned_data
    return Redeeming(
        invoice_id=invoice.pk,
        amount_minor=form.amount_minor,
        on=data["on"],
        form_key=data["form_key"],
        honours_expired=bool(data["honours_expired"]),
    )


def _words(voucher: Voucher) -> dict[str, Any]:
    studio = StudioProfile.load().trading_name
    total = money_words(voucher.amount)
    body = (
        f"Dear {voucher.client.addressee},\n\nthank you. Your voucher over {total} "
        "comes with this message, ready to print. Whoever has its code may redeem it, "
        f"so keep it as you would keep money.\n\n{studio}\n"
    )
    return {
        "address": voucher.client.email,
        "subject": f"Your voucher over {total}",
        "words": body,
    }


def _file_name(voucher: Voucher) -> str:
    return f"Voucher-{voucher.pk}.pdf"
