"""A quote on the builder's page: what is typed, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from invoicing.invoices.content import Content
from invoicing.quotes.figures import (
    OwnPlan,
    QuoteFigures,
    counted_lines,
    figures_from,
    own_costs,
    plan_of,
)
from invoicing.quotes.forms import QuoteForm, initial_terms
from invoicing.quotes.light_words import daylight_words, span_words
from invoicing.quotes.line_forms import (
    PREFIX,
    LineDesk,
    QuoteLines,
    desk_for,
    in_order,
    initial_lines,
    typed_lines,
)
from invoicing.quotes.models import DepositRule, Quote
from invoicing.quotes.operations import LineWish, QuoteWish
from invoicing.quotes.priced import line_amount
from invoicing.quotes.proposals import Journey, Proposed, journey_to
from invoicing.quotes.session_forms import saved_session, session_is_held
from invoicing.quotes.sessions import SessionWish
from invoicing.quotes.worth_a_look import Note, spot_of, worth_a_look
from studio.forms import more_lines
from studio.wording import long_date, money_words

NOTHING: Final = "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What the quote comes to as it is typed; `amounts` has one text a row."""

    figures: QuoteFigures | None
    packages: Sequence[tuple[str, QuoteFigures]]
    amounts: Sequence[str]
    day_words: str
    journey: Journey | None
    notes: Sequence[Note]


class Builder:
    """The forms of one quote, unbound or with what was posted."""

    def __init__(
        self,
        quote: Quote,
        *,
        today: date,
        shows_costs: bool,
        posted: Mapping[str, Any] | None = None,
    ) -> None:
        self.quote, self.today, self.posted = quote, today, posted
        self.desk: LineDesk = desk_for(quote, shows_costs=shows_costs)
        self.session_is_held = session_is_held(quote)
        known: dict[str, Any] = {
            "quote": quote,
            "today": today,
            "shows_costs": shows_costs,
        }
        if posted is None:
            self.form = QuoteForm(initial=initial_terms(quote), **known)
            rows = initial_lines(quote) if quote.pk else []
            self.lines = self._lines(initial=rows)
        else:
            self.form = QuoteForm(posted, **known)
            self.lines = self._lines(data=posted)

    def is_valid(self) -> bool:
        """Say whether all that was posted can be saved."""
        checked = [
            self.form.is_valid(),
            self.lines.is_valid(),
        ]  # both say what is wrong
        return all(checked)

    def wish(self) -> QuoteWish:
        """Return the draft that was posted; ask only where it is valid."""
        lines = in_order(line for line in typed_lines(self.lines.forms) if line)
        return QuoteWish(terms=self.form.terms(), lines=lines, session=self.session())

    def session(self) -> SessionWish | None:
        """Return the session as typed; one that is held stands as it is."""
        if self.session_is_held or self.posted is None:
            return saved_session(self.quote)
        return self.form.session

    def tax_day(self) -> date:
        """Return the day whose rates of tax are proposed: the session's, or today."""
        self.form.is_valid()
        session = self.session()
        if session is None:
            return self.today
        return session.starts_at.astimezone(session.place.zone).date()

    def grow(self, proposed: Sequence[Proposed]) -> None:
        """Show the lines proposed in rows of their own; without any, an empty row.

        Nothing that is not finished yet is called wrong.
        """
        data = dict(self.posted or {})
        for line in proposed:
            data, place = _with_empty(data)
            data |= line.posted(f"{PREFIX}-{place}", self.desk)
        if proposed:
            data, place = _with_empty(data)
        else:
            data = more_lines(data, prefix=PREFIX)
            place = int(data[f"{PREFIX}-TOTAL_FORMS"]) - 1
        if not data.get(f"{PREFIX}-{place}-quantity"):
            data[f"{PREFIX}-{place}-quantity"] = "1"
        self.lines = self._lines(data=data)
        self.form.is_valid()
        self.lines.is_valid()
        for one in (self.form, *self.lines.forms):
            one.errors.clear()
        self.lines.non_form_errors().clear()

    def package_names(self) -> list[str]:
        """Return the packages that lines name so far, in order."""
        named = (form["package"].value() for form in self.lines.forms)
        return list(dict.fromkeys(name for name in named if name))

    def renew_versions(self, standing: Quote) -> None:
        """Let the next save put this in the place of what somebody else saved."""
        session = saved_session(standing)
        posted = dict(self.form.data)
        posted["edit_version"] = str(standing.edit_version)
        posted["booking_version"] = str(session.booking_version) if session else ""
        self.form.data = posted

    def preview(self) -> Preview:
        """Return what is typed so far in figures; what is not finished is left out."""
        if self.posted is None:
            typed: list[LineWish | None] = [
                _wish_of(line) for line in _stored(self.quote)
            ]
            typed += [None] * (len(self.lines.forms) - len(typed))
        else:
            self.form.is_valid()
            typed = typed_lines(self.lines.forms)
        session = self.session()
        kept = [line for line in typed if line]
        every = self._every_figures(kept)
        like = self._content(kept, "")
        return Preview(
            figures=min((one for _, one in every), key=_total, default=None),
            packages=every if any(name for name, _ in every) else [],
            amounts=[_amount(line, like) for line in typed],
            day_words=day_words(session) if session else self._wish_words(),
            journey=journey_to(session),
            notes=worth_a_look(self.quote, kept, session),
        )

    def _lines(self, **given: Any) -> Any:
        return QuoteLines(prefix=PREFIX, form_kwargs={"desk": self.desk}, **given)

    def _every_figures(
        self, kept: Sequence[LineWish]
    ) -> list[tuple[str, QuoteFigures]]:
        names = list(dict.fromkeys(line.package for line in kept if line.package))
        found = [(name, self._figures(name, kept)) for name in names or [""]]
        return [(name, figures) for name, figures in found if figures]

    def _content(self, kept: Sequence[LineWish], package: str) -> Content:
        percent, minor = (
            (self.quote.discount_percent_hundredths, self.quote.discount_minor)
            if self.posted is None
            else self.form.discount_asked()
        )
        return Content(
            currency=self.quote.currency,
            price_basis=self.quote.basis,
            lines=tuple(line.content() for line in counted_lines(kept, package)),
            discount_percent_hundredths=percent,
            discount_minor=minor,
        )

    def _rule(self) -> DepositRule:
        return self.quote.deposit if self.posted is None else self.form.deposit_rule()

    def _plan(self) -> OwnPlan:
        return plan_of(self.quote) if self.posted is None else self.form.own_plan()

    def _figures(self, package: str, kept: Sequence[LineWish]) -> QuoteFigures | None:
        content = self._content(kept, package)
        if not content.lines:
            return None
        costs = own_costs(counted_lines(kept, package), content.currency)
        try:
            return figures_from(content, self._rule(), costs, self._plan())
        except ValueError:  # a round discount on lines that cost nothing
            return None

    def _wish_words(self) -> str:
        wished = self.quote.job.wished_on
        if wished is None:
            return "A quote can go out without a date."
        return f"They asked for {long_date(wished)}."


def with_heads(
    line_forms: Iterable[Any], amounts: Iterable[str]
) -> list[tuple[Any, str, str]]:
    """Return each row with its amount and the head that stands above it, if one does.

    Heads are for quotes with packages only.
    """
    rows = list(zip(line_forms, amounts, strict=True))
    if not any(form["package"].value() for form, _ in rows):
        return [(form, amount, "") for form, amount in rows]
    told, before = [], ""
    for form, amount in rows:
        head = _head_of(form)
        told.append((form, amount, "" if head == before else head))
        before = head
    return told


def _head_of(form: Any) -> str:
    if name := form["package"].value():
        return f"Package: {name}"
    if not form["description"].value():
        return "One more line"
    return "Extras to tick" if form["optional"].value() else "In every package"


def day_words(session: SessionWish) -> str:
    """Return a session's day in words: weekday, length, and its light."""
    zone = session.place.zone
    start = session.starts_at.astimezone(zone)
    spot = spot_of(session.place)
    length = span_words(session.ends_at - session.starts_at)
    return f"{start:%A}, {length}. {daylight_words(spot, start)}."


def _total(figures: QuoteFigures) -> int:
    return figures.total.minor


def _amount(line: LineWish | None, like: Content) -> str:
    if line is None:
        return NOTHING
    return money_words(line_amount(line.content(), like), sign=False)


def _stored(quote: Quote) -> list[Any]:
    return list(quote.lines.all()) if quote.pk else []


def _wish_of(line: Any) -> LineWish:
    names = LineWish.__dataclass_fields__
    return LineWish(**{name: getattr(line, name) for name in names})


def _with_empty(data: dict[str, Any]) -> tuple[dict[str, Any], int]:
    """Return what was posted with a row that nothing stands in, and its place."""
    given = str(data.get(f"{PREFIX}-TOTAL_FORMS", "0"))
    total = int(given) if given.isascii() and given.isdigit() else 0
    for place in range(total):
        row = f"{PREFIX}-{place}"
        if not data.get(f"{row}-description") and not data.get(f"{row}-price"):
            return data, place
    return more_lines(data, prefix=PREFIX), total
