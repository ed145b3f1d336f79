"""The printed quote."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether, Spacer

from invoicing.quotes.priced import QuotedLine
from invoicing.quotes.printed import PrintedQuote, PrintedYes
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import Imprint, print_pages
from studio.pdf.styles import BOLD, LABEL, LETTER, ROW_AMOUNT, ROW_NUMBER, SMALL
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

Cell = list[str | Flowable]


def print_quote(quote: PrintedQuote) -> bytes:
    """Return the quote as a PDF; an equal quote gives equal bytes."""
    session = quote.session
    mark = f"{quote.number}, version {quote.version}"
    notes: tuple[tuple[float, str], ...] = ()
    if session:
        light = f"{session.light[0].lower()}{session.light[1:]}"
        notes = (
            (0.0, f"{session.day}: {light}"),
            (session.share, f"your session, {session.clock}"),
        )
    head = LetterHead(
        name=quote.seller_name,
        contact=quote.seller_lines,
        kind="Quote",
        mark=mark,
        strip=session.paper_strip if session else None,
        notes=notes,
    )
    imprint = Imprint(title=f"Quote {mark}", author=quote.seller_name, foot=quote.foot)
    return print_pages(_story(quote), imprint=imprint, head=head)


def _story(quote: PrintedQuote) -> list[Flowable]:
    story: list[Flowable] = [_parties(quote), Spacer(1, 14)]
    if quote.opening_note:
        story += [text(quote.opening_note, LETTER), Spacer(1, 12)]
    if quote.packages:
        story += _packages(quote)
    else:
        story.append(_lines(quote.always))
    story += [Spacer(1, 10), KeepTogether([_price(quote)])]
    if quote.extras:
        story += [Spacer(1, 10), _extras(quote)]
    if terms := _short_terms(quote):
        story += [Spacer(1, 14), columns_of_terms(terms)]
    if quote.withdrawal:
        story += [
            Spacer(1, 8),
            rich(bold("If you change your mind: "), quote.withdrawal),
        ]
    yes = _accepted(quote, quote.accepted) if quote.accepted else _to_sign(quote)
    story += [Spacer(1, 14), KeepTogether(yes)]
    if quote.terms:
        story += [heading("Terms"), text(quote.terms, SMALL)]
    return story


def _parties(quote: PrintedQuote) -> Flowable:
    buyer: Cell = [text("For", LABEL), text(quote.buyer_lines[0], BOLD)]
    buyer += [text(line) for line in quote.buyer_lines[1:]]
    middle: Cell = [text("Date of quote", LABEL), text(quote.quoted_on)]
    if quote.session:
        middle += [text("Where", LABEL), text(quote.session.place)]
        middle += [text(quote.session.place_detail, SMALL)]
    until: Cell = [text("Price holds until", LABEL), text(quote.valid_until, BOLD)]
    if quote.pictures_by:
        until += [text("Pictures ready by", LABEL), text(quote.pictures_by)]
    return side_by_side(buyer, middle, until, shares=(1.1, 1.2, 1.0))


def _lines(lines: Sequence[QuotedLine], *, head: str = "What") -> Flowable:
    columns = [
        Column(head=head, share=3.4),
        Column(head="Quantity", width=84, style=ROW_NUMBER),
        Column(head="Price", width=76, style=ROW_NUMBER),
        Column(head="Amount", width=82, style=ROW_AMOUNT),
    ]
    rows = [
        [item(line.title, line.detail), line.quantity, line.price, line.amount]
        for line in lines
    ]
    return line_table(columns, rows)


def _packages(quote: PrintedQuote) -> list[Flowable]:
    many = len(quote.packages)
    story: list[Flowable] = [text(f"Choose one of these {many} packages.", LETTER)]
    if quote.always:
        story += [Spacer(1, 4), _lines(quote.always, head="With every package")]
    for one in quote.packages:
        head = heading(f"Package {one.place}: {one.name}")
        foot = sums(one.price.sums, total=("In all", one.price.total))
        story += [
            Spacer(1, 10),
            KeepTogether([head, _lines(one.lines), Spacer(1, 2), foot]),
        ]
    return story


def _choices(quote: PrintedQuote) -> Flowable:
    columns = [
        Column(head="Your choice", share=2.0, style=BOLD),
        Column(head="Deposit", width=66, style=ROW_NUMBER),
        Column(head="In all", width=72, style=ROW_AMOUNT),
    ]
    rows = [
        [f"{one.place}: {one.name}", one.price.deposit, one.price.total]
        for one in quote.packages
    ]
    return line_table(columns, rows)


def _price(quote: PrintedQuote) -> Flowable:
    paying = quote.paying
    first = (
        (bold(f"{paying.lead} "), paying.deposit) if paying.lead else (paying.deposit,)
    )
    head = "To hold the date" if paying.lead else "Paying"
    box = Boxed([heading(head), rich(*first), Spacer(1, 3), text(paying.rest)])
    if quote.packages:
        return side_by_side(box, [_choices(quote)], shares=(1.0, 1.1))
    totals: Cell = [sums(quote.price.sums, total=("Total", quote.price.total))]
    if quote.price.tax_sentence:
        totals.append(text(quote.price.tax_sentence, SMALL))
    return side_by_side(box, totals, shares=(1.1, 1.0))


def _extras(quote: PrintedQuote) -> Flowable:
    columns = [
        Column(head="If you like, on top", share=3.4),
        Column(head="Price", width=82, style=ROW_AMOUNT),
    ]
    rows = [[item(one.title, one.detail), f"+ {one.price}"] for one in quote.extras]
    return line_table(columns, rows)


def _short_terms(quote: PrintedQuote) -> list[tuple[str, str]]:
    terms = [
        ("Included", "\n".join(quote.included)),
        ("If you move or cancel", quote.moving),
        ("If the weather fails", quote.weather),
    ]
    return [(head, words) for head, words in terms if words]


def _to_sign(quote: PrintedQuote) -> list[Flowable]:
    page = "open your private page (link in the e-mail this came with), or sign here."
    words = (
        page
        if quote.has_page
        else "answer the e-mail this came with, ring, or sign here."
    )
    ticked = " Mark your package above." if quote.packages else ""
    ticked += " Mark what you want on top." if quote.extras else ""
    signed = signature_lines("Name", "Signature", "Date")
    return [rich(bold("Acceptance: "), words + ticked), signed]


def _accepted(quote: PrintedQuote, yes: PrintedYes) -> list[Flowable]:
    showing = (
        "Pictures from this session may be shown."
        if yes.shows_pictures
        else "Pictures from this session stay private."
    )
    package = f" Package: {yes.package}." if yes.package else ""
    with_extras = f" With: {'; '.join(yes.extras)}." if yes.extras else ""
    return [
        Boxed(
            [
                heading("Accepted"),
                rich("By ", bold(yes.name), f", {yes.how}, on {yes.when}."),
                text(f"Agreed: {quote.price.total} in all.{package}{with_extras}"),
                text(showing),
                text(f"Mark of what was accepted: {yes.code}", SMALL),
            ]
        )
    ]
