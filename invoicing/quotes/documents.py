"""The printed quote."""

from __future__ import annotations

from reportlab.platypus import Flowable, KeepTogether, Spacer

from invoicing.quotes.printed import PrintedQuote
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.styles import LABEL, LETTER, ROW_AMOUNT, ROW_NUMBER, SMALL
from studio.pdf.tables import (
    Boxed,
    columns_of_terms,
    item,
    line_table,
    side_by_side,
    signature_lines,
    sums,
)
from studio.pdf.text import bold, heading, rich, text


def print_quote(quote: PrintedQuote) -> bytes:
    """Return the quote as a PDF; an equal quote gives equal bytes."""
    session = quote.session
    head = LetterHead(
        name=quote.seller_name,
        contact=quote.seller_lines,
        kind="Quote",
        mark=f"{quote.number}, version {quote.version}",
        strip=session.strip if session else None,
        notes=(
            (
                (0.0, f"{session.day}: {session.light.lower()}"),
                (0.55, f"your session, {session.clock}"),
            )
            if session
            else ()
        ),
    )
    title = f"Quote {quote.number}, version {quote.version}"
    imprint = Imprint(title=title, author=quote.seller_name, foot=quote.foot)
    return print_pages(_story(quote), imprint=imprint, head=head)


def _story(quote: PrintedQuote) -> list[Flowable]:
    story: list[Flowable] = [_parties(quote), Spacer(1, 14)]
    if quote.opening_note:
        story += [text(quote.opening_note, LETTER), Spacer(1, 10)]
    story += [_lines(quote), Spacer(1, 8), _price(quote)]
    if quote.extras:
        story += [Spacer(1, 10), KeepTogether(_extras(quote))]
    if terms := _terms(quote):
        story += [Spacer(1, 12), columns_of_terms(terms)]
    if quote.withdrawal:
        story += [Spacer(1, 8), text(quote.withdrawal, SMALL)]
    story += [Spacer(1, 12), KeepTogether(_acceptance())]
    if quote.terms:
        story += [heading("Terms"), text(quote.terms, SMALL)]
    return story


def _parties(quote: PrintedQuote) -> Flowable:
    buyer: list[str | Flowable] = [text("For", LABEL)]
    buyer.append(rich(bold(quote.buyer_lines[0])))
    buyer += [text(line) for line in quote.buyer_lines[1:]]
    until: list[str | Flowable] = [text("Price holds until", LABEL)]
    until.append(rich(bold(quote.valid_until)))
    if quote.pictures_by:
        until += [text("Pictures ready by", LABEL), rich(bold(quote.pictures_by))]
    cells = [buyer, until]
    if session := quote.session:
        where: list[str | Flowable] = [text("Where", LABEL)]
        where += [rich(bold(session.place)), text(session.place_detail)]
        cells.insert(1, where)
    return side_by_side(*cells)


def _lines(quote: PrintedQuote) -> Flowable:
    columns = [
        Column(head="What", share=3.4),
        Column(head="Quantity", width=84, style=ROW_NUMBER),
        Column(head="Price", width=76, style=ROW_NUMBER),
        Column(head="Amount", width=82, style=ROW_AMOUNT),
    ]
    rows = [
        [item(line.title, line.detail), line.quantity, line.price, line.amount]
        for line in quote.lines
    ]
    return line_table(columns, rows)


def _price(quote: PrintedQuote) -> Flowable:
    box = Boxed(
        [heading("To hold the date"), text(quote.deposit_words), text(quote.rest_words)]
    )
    totals: list[str | Flowable] = [sums(quote.sums, total=("Total", quote.total))]
    if quote.tax_sentence:
        totals.append(text(quote.tax_sentence, SMALL))
    return side_by_side(box, totals)


def _extras(quote: PrintedQuote) -> list[Flowable]:
    rows = [[item(one.title, one.detail), f"+ {one.price}"] for one in quote.extras]
    columns = [
        Column(head="If you like, on top", share=3.4),
        Column(head="Price", width=82, style=ROW_AMOUNT),
    ]
    return [line_table(columns, rows)]


def _terms(quote: PrintedQuote) -> list[tuple[str, str]]:
    terms = [
        ("Included", ". ".join(quote.included)),
        ("If you move or cancel", quote.moving),
        ("If the weather fails", quote.weather),
    ]
    return [(head, words) for head, words in terms if words]


def _acceptance() -> list[Flowable]:
    words = rich(
        bold("Acceptance: "),
        "open your private page (link in the e-mail this came with), or sign here.",
    )
    return [words, signature_lines("Name", "Signature", "Date")]
