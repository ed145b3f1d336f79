"""What must be true of issued papers: no gap, no change, sums that add up."""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from django.db.models import Sum

from invoicing.invoices.issuing import CHAIN, chained_content
from invoicing.invoices.models import Invoice, TaxRow
from invoicing.invoices.states import Series
from studio.checks import verifies
from studio.history.models import ChainHead
from studio.history.operations import link_hash
from studio.money import Money
from studio.series.models import SeriesCounter


@verifies("numbers of issued papers")
def gaps() -> Iterator[str]:
    """Yield a sentence for each number that is missing, or date that goes back."""
    places: dict[tuple[str, int], list[int]] = defaultdict(list)
    latest: dict[str, date] = {}
    papers = Invoice.objects.order_by("series", "year", "place")
    for series, year, place, issued_on in papers.values_list(
        "series", "year", "place", "issued_on"
    ):
        places[series, year].append(place)
        if issued_on < latest.get(series, issued_on):
            yield f"Paper {place} of {series} {year} is dated before the one before it."
        latest[series] = issued_on
    for (series, year), taken in places.items():
        for place in sorted(set(range(1, max(taken) + 1)) - set(taken)):
            yield f"Number {place} of {series} {year} is missing."
    counters = SeriesCounter.objects.filter(kind__in=Series.values)
    stands = {(row.kind, row.year): row.last for row in counters}
    for key in stands.keys() | places.keys():
        last = max(places.get(key, [0]))
        if stands.get(key, 0) != last:
            yield f"The counter of {key[0]} {key[1]} does not stand at {last}."


@verifies("the chain of issued papers")
def broken_papers() -> Iterator[str]:
    """Yield a sentence for each paper that was changed or does not follow the last."""
    sequence, previous_hash = 0, "0" * 64
    for paper in Invoice.objects.order_by("chain_sequence").iterator():
        if paper.chain_sequence != sequence + 1:
            yield f"A paper before {paper.number} is missing from the chain."
        if paper.previous_hash != previous_hash:
            yield f"{paper.number} does not follow the paper before it."
        if paper.hash != link_hash(paper.previous_hash, chained_content(paper)):
            yield f"{paper.number} was changed after its issue."
        written = json.dumps(paper.snapshot, sort_keys=True, separators=(",", ":"))
        if hashlib.sha256(written.encode()).hexdigest() != paper.snapshot_hash:
            yield f"What {paper.number} says was changed after its issue."
        sequence, previous_hash = paper.chain_sequence, paper.hash
    head = ChainHead.objects.filter(name=CHAIN).first()
    if head and (head.sequence, head.hash) != (sequence, previous_hash):
        yield "The last issued papers are missing."


@verifies("sums of issued papers")
def wrong_sums() -> Iterator[str]:
    """Yield a sentence for each paper whose figures do not agree with one another."""
    rows = TaxRow.objects.order_by().values_list("invoice_id")
    summed = rows.annotate(Sum("taxable_minor"), Sum("tax_minor"))
    in_rows = {pk: (taxable, tax) for pk, taxable, tax in summed}
    for paper in Invoice.objects.order_by("pk").iterator():
        if in_rows.get(paper.pk, (0, 0)) != (paper.net_minor, paper.tax_minor):
            yield f"The tax rows of {paper.number} do not add up to its sums."
        printed = paper.snapshot["totals"]
        columns = {
            "net": paper.net_minor,
            "tax": paper.tax_minor,
            "gross": paper.gross_minor,
        }
        for name, minor in columns.items():
            kept = Money.from_minor(minor, paper.currency).amount
            if str(kept) != printed[name]:
                yield f"{paper.number} prints another {name} sum than the books hold."


@verifies("sums of credit notes")
def credited_too_much() -> Iterator[str]:
    """Yield a sentence for each invoice that was taken back beyond its sum."""
    beyond = Invoice.objects.credited_beyond().order_by("pk")
    for number in beyond.values_list("number", flat=True):
        yield f"{number} was credited by more than it came to."
