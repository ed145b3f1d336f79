"""Keeping receipts, and sending papers with words that were shown before."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import models, transaction

from invoicing.payments.documents import print_receipt
from invoicing.payments.models import Payment, PrintedReceipt
from invoicing.payments.operations import PaymentError
from invoicing.payments.printed import printed_receipt
from invoicing.payments.queries import SeenPayment, seen_payment
from studio.files.models import StoredFile
from studio.files.operations import store_file
from studio.history.operations import record
from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words


@transaction.atomic
def keep_receipt(*, payment_id: int, at: datetime) -> StoredFile:
    """Return the receipt of a payment: the one kept, or a new one where it says more.

    What was printed once is never rewritten.
    """
    Payment.objects.select_for_update().get(pk=payment_id)
    seen = seen_payment(payment_id)
    if seen.payment.is_loss:
        raise PaymentError("No money came, so there is no receipt.")
    zone = StudioProfile.load().zone
    kept = PrintedReceipt.objects.filter(payment=payment_id).select_related("file")
    last = kept.first()
    if last is not None:
        again = _bytes(seen, last.file.stored_at.astimezone(zone).date())
        if hashlib.sha256(again).hexdigest() == last.file.sha256:
            return last.file
    file = store_file(
        name=f"Receipt-payment-{payment_id}.pdf",
        content_type="application/pdf",
        content=_bytes(seen, at.astimezone(zone).date()),
        at=at,
    )
    PrintedReceipt.objects.create(payment=seen.payment, file=file)
    return file


@transaction.atomic
def send_paper(
    *,
    about: models.Model,
    file: StoredFile,
    said: Mapping[str, Any],
    by: Person,
    at: datetime,
) -> Message:
    """Put a paper into the outbox with the words that were shown; each form once.

    `said` holds name, address, subject, words and form_key.
    """
    message = write_message(
        occasion=f"paper:{said['form_key']}",
        about=about,
        letter=Letter(
            address=said["address"],
            recipient_name=said["name"],
            subject=said["subject"],
            body=said["words"],
        ),
        at=at,
        files=[file],
    )
    record(about, "sent", by=by, at=at, data={"file": file.name})
    return message


def receipt_words(seen: SeenPayment) -> dict[str, str]:
    """Return to whom and with which words a receipt goes, before anybody edits it."""
    payment, studio = seen.payment, StudioProfile.load().trading_name
    total = money_words(abs(payment.amount))
    on = long_date(payment.received_on)
    if payment.amount_minor < 0:
        said = f"on {on} I paid {total} back to you. The paper for it comes with this."
        subject = f"Paid back: {total}"
    else:
        said = f"thank you: {total} came in on {on}. Your receipt comes with this."
        subject = f"Receipt for {total}"
    return {
        "address": payment.client.email,
        "subject": subject,
        "words": f"Dear {payment.client.addressee},\n\n{said}\n\n{studio}\n",
    }


def _bytes(seen: SeenPayment, on: date) -> bytes:
    return print_receipt(printed_receipt(seen, on=on))
