"""The printed voucher: a card of A5 to give away."""

from __future__ import annotations

from dataclasses import replace

from reportlab.platypus import Flowable, Spacer

from invoicing.invoices.snapshots import seller_foot, seller_lines, seller_of
from invoicing.vouchers.models import Voucher
from studio.pdf.grid import Column
from studio.pdf.heads import LetterHead
from studio.pdf.paper import CARD_PAPER, Imprint, print_pages
from studio.pdf.styles import DISPLAY, FACT, LABEL, LETTER, SMALL
from studio.pdf.tables import facts, ruled_rows
from studio.pdf.text import text
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words, plain_number

ROOM = 250
"""As many signs of a greeting as the card has room for at full size."""


def print_voucher(voucher: Voucher, profile: StudioProfile) -> bytes:
    """Return the card as a PDF; an equal voucher gives equal bytes."""
    seller = seller_of(profile)
    name = seller["trading_name"] or seller["owner_name"]
    head = LetterHead(name=name, contact=seller_lines(seller), kind="Voucher")
    imprint = Imprint(title=str(voucher), author=name, foot=seller_foot(seller))
    return print_pages(
        _story(voucher), imprint=imprint, head=head, stationery=CARD_PAPER
    )


def _story(voucher: Voucher) -> list[Flowable]:
    story: list[Flowable] = [Spacer(1, 8)]
    if voucher.given_to:
        story += [text("For", LABEL), text(voucher.given_to, replace(FACT, size=17.0))]
    if voucher.greeting:
        size = LETTER if len(voucher.greeting) <= ROOM else SMALL
        story += [Spacer(1, 6), text(voucher.greeting, size)]
    big = replace(DISPLAY, space_before=8.0, space_after=6.0)
    story.append(text(money_words(voucher.amount), big))
    until = voucher.valid_until_on
    pairs = [("Code", voucher.spoken_code)]
    pairs.append(("Good until", long_date(until) if until else "No end"))
    story.append(facts(pairs, style=replace(FACT, size=15.0), shares=(3.0, 2.0)))
    story += [Spacer(1, 6), ruled_rows([Column(style=SMALL)], [(_says(voucher),)])]
    return story


def _says(voucher: Voucher) -> str:
    says = (
        "Whoever holds this code may redeem it here, at once or in parts. It is no tax "
    )
    if voucher.tax_minor:
        return (
            f"{says}invoice; its price had {plain_number(voucher.tax_rate)}% tax in it."
        )
    return f"{says}invoice: the invoice that it pays will show any tax."
