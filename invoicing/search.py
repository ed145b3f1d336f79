"""What the one search box finds of the money side."""

from invoicing.invoices.models import Invoice
from invoicing.quotes.models import Quote
from studio.finding.queries import newest_found
from studio.search import Found, searchable


@searchable(action="invoice.see")
def find_invoices(words: str) -> list[Found]:
    """Find invoices and credit notes by number or client; a job leads to its own."""
    papers = Invoice.objects.select_related("client", "job")
    return [
        Found(
            kind=one.get_series_display(),
            title=one.number,
            detail=f"{one.client}, {one.job.title}",
            url=one.get_absolute_url(),
        )
        for one in newest_found(papers, words)
    ]


@searchable(action="quote.see")
def find_quotes(words: str) -> list[Found]:
    """Find quotes by their number."""
    quotes = Quote.objects.select_related("job__client")
    return [
        Found(
            kind="Quote",
            title=str(one),
            detail=f"{one.job.client}, {one.job.title}",
            url=one.get_absolute_url(),
        )
        for one in newest_found(quotes, words)
    ]
