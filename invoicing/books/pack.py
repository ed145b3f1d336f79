"""The pack of a period: everything its bookkeeper needs, in one zip."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from datetime import datetime
from typing import Final

from invoicing.books.exports import journal_csv, payments_csv, purchases_csv, tax_csv
from invoicing.books.facts import Facts
from invoicing.books.figures import PeriodFigures
from invoicing.books.models import account_codes
from invoicing.books.numbers import number_lines
from invoicing.invoices.models import IssuedDocument
from invoicing.purchases.models import Purchase
from studio.files.models import StoredFile
from studio.money import Money
from studio.sheets import csv_bytes

SUFFIX: Final = {"application/pdf": "pdf", "image/jpeg": "jpg"}
EARLIEST: Final = (1980, 1, 1, 0, 0, 0)


def pack_of(figures: PeriodFigures, facts: Facts, *, at: datetime) -> bytes:
    """Return the zip: summary, journal, lists, papers, receipts, run of numbers.

    Equal books give equal bytes, but for the line that says when it was made.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in _parts(figures, facts, at):
            archive.writestr(zipfile.ZipInfo(name, EARLIEST), content)
    return out.getvalue()


def _parts(
    figures: PeriodFigures, facts: Facts, at: datetime
) -> Iterator[tuple[str, bytes]]:
    span, currency = figures.span, figures.currency
    inside = _inside(facts, figures)
    receipts = dict(_receipts(figures))
    yield "summary.txt", _summary(figures, at).encode()
    yield (
        "journal.csv",
        journal_csv(figures.entries, currency=currency, codes=account_codes()),
    )
    if figures.bears_tax:
        yield "tax.csv", tax_csv(figures.tax, currency=currency)
    yield "payments.csv", payments_csv(inside)
    yield (
        "purchases.csv",
        purchases_csv(
            inside,
            has_receipt=dict.fromkeys(receipts, True),
            shows_tax=figures.bears_tax,
        ),
    )
    yield "numbers.csv", csv_bytes(("series", "number", "date", "note"), number_lines())
    for document in IssuedDocument.objects.filter(
        invoice__tax_point_on__range=(span.first, span.last)
    ).select_related("file", "invoice"):
        number, name = document.invoice.number, document.file.name
        name = f"{number}.pdf" if document.kind == "PDF" else name
        yield f"papers/{name}", bytes(document.file.content)
    for pk, file in receipts.items():
        yield f"receipts/purchase-{pk}.{SUFFIX[file.content_type]}", bytes(file.content)


def _inside(facts: Facts, figures: PeriodFigures) -> Facts:
    first, last = figures.span.first, figures.span.last
    return Facts(
        currency=facts.currency,
        payments=tuple(one for one in facts.payments if first <= one.on <= last),
        purchases=tuple(
            one for one in facts.purchases if first <= one.bought_on <= last
        ),
    )


def _receipts(figures: PeriodFigures) -> Iterator[tuple[int, StoredFile]]:
    days = (figures.span.first, figures.span.last)
    standing = Purchase.objects.standing().filter(bought_on__range=days)
    for purchase in standing.select_related("receipt").order_by("pk"):
        if purchase.receipt:
            yield purchase.pk, purchase.receipt


def _summary(figures: PeriodFigures, at: datetime) -> str:
    def words(minor: int) -> str:
        return str(Money.from_minor(minor, figures.currency))

    lines = [
        f"Books of {figures.span.name}",
        f"Made on {at:%d %B %Y at %H:%M} UTC",
        "",
        f"Money from clients   {words(figures.money_in_minor)}",
        f"Paid back to clients {words(figures.money_out_minor)}",
        f"Costs paid           {words(figures.spent_minor)}",
    ]
    if figures.bears_tax:
        lines += [
            f"Tax on sales         {words(figures.tax.output_minor)}",
            f"Tax on purchases     {words(figures.tax.input_minor)}",
            f"Tax due              {words(figures.tax.due_minor)}",
        ]
    lines += [
        "",
        "Figures follow the studio's own settings. They are no return and no",
        "advice; local law decides, and whoever files for you checks them.",
    ]
    return "\n".join(lines) + "\n"
