"""What the one search box finds of the money side."""

from invoicing.invoices.models import Invoice
from invoicing.quotes.models import Quote
from studio.search import Found, searchable


@searchable(action="invoice.see")
def find_invoices(words: str) -> list[Found]:
    """Find invoices and credit notes by number or client; a job leads to its own."""
    papers = Invoice.objects.of_number_or_client(words)
    return [
        Found(
            kind=one.get_series_display(),
            title=one.number,
            detail=f"{one.client}, {one.job.title}",
            url=one.get_absolute_url(),
        )
        for one in papers.select_related("client", "job")[:10]
    ]


@searchable(action="quote.see")
def find_quotes(words: str) -> list[Found]:
    """Find quotes by their number."""
    quotes = Quote.objects.filter(number__icontains=words).select_related("job__client")
    return [
        Found(
            kind="Quote",
            title=str(one),
            detail=f"{one.job.client}, {one.job.title}",
            url=one.get_absolute_url(),
        )
        for one in quotes[:10]
    ]
