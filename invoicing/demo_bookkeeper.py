"""What the demo's bookkeeper asks, and what its owner took for herself."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import partial
from typing import Final

from invoicing.books.operations import close_period
from invoicing.drawings.models import MovedBy
from invoicing.drawings.operations import Moved, record_move
from invoicing.periods.calendar import Span, before, period_of
from invoicing.purchases.models import Purchase
from invoicing.questions.operations import answer_question, ask_about_paper
from invoicing.sharing.operations import Reader, share_pack
from invoicing.sharing.queries import words_for
from studio.demo import Scenery

OWN: Final = (
    (-96, 50_000, "To bridge the quiet weeks"),
    (-61, -90_000, "For the household"),
    (-30, -90_000, "For the household"),
)
CLOSED_AFTER: Final = 12
"""How many days after a period's end its books are closed."""
ASKED: Final = "Was all of this for the album of the Tarrants?"


def tell_of_the_bookkeeper(scenery: Scenery) -> None:
    """Let the owner move money of her own, and the bookkeeper look things through."""
    for day, minor, note in OWN:
        scenery.then(day, "19:10", partial(_move, scenery, minor, note))
    over = (scenery.moment(0).date() - _last_period(scenery).last).days
    if over > CLOSED_AFTER:
        scenery.then(CLOSED_AFTER - over, "18:20", lambda at: _close(scenery, at))
        scenery.then(-4, "18:30", lambda at: _share(scenery, at))
    scenery.then(-2, "17:40", lambda at: _ask(scenery, at))


def _move(scenery: Scenery, minor: int, note: str, at: datetime) -> None:
    moved = Moved(
        amount_minor=minor,
        currency=scenery.rows["profile"].currency,
        moved_on=at.date(),
        moved_by=MovedBy.BANK,
        note=note,
        form_key=f"demo-own-{at.date().isoformat()}",
    )
    record_move(moved=moved, by=scenery.rows["maren"], at=at)


def _close(scenery: Scenery, at: datetime) -> None:
    scenery.rows["closed"] = close_period(
        span=_last_period(scenery), by=scenery.rows["edda"], at=at
    )


def _share(scenery: Scenery, at: datetime) -> None:
    closed, name = scenery.rows["closed"], "Ines Tolland"
    reader = Reader(
        name=name,
        address="ines@tollandbooks.example",
        lasts=timedelta(days=14),
        form_key="demo",
    )
    letter = words_for(closed, name, until=at + reader.lasts)
    maren = scenery.rows["maren"]
    share_pack(period_id=closed.pk, reader=reader, letter=letter, by=maren, at=at)


def _last_period(scenery: Scenery) -> Span:
    profile = scenery.rows["profile"]
    months, first = profile.period_months, profile.period_first_month
    return before(
        period_of(scenery.moment(0).date(), months=months, first_month=first),
        months=months,
    )


def _ask(scenery: Scenery, at: datetime) -> None:
    prints = Purchase.objects.filter(supplier="Quayside Print Rooms")
    first, last = prints.order_by("bought_on")
    edda, maren = scenery.rows["edda"], scenery.rows["maren"]
    told = ask_about_paper(paper=first, question=ASKED, by=edda, at=at)
    answer = "Yes, album and box"
    answer_question(question_id=told.pk, answer=answer, by=maren, at=at)
    which = "Which job are these twelve prints for?"
    ask_about_paper(paper=last, question=which, by=edda, at=at)
