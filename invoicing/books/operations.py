"""Closing a period of the books."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from invoicing.books.accounts import FIRST_CODES
from invoicing.books.figures import figures_of
from invoicing.books.models import AccountCode
from invoicing.books.queries import bases_now, read_facts
from invoicing.invoices.issuing import CHAIN
from invoicing.periods.calendar import Span
from invoicing.periods.models import ClosedPeriod
from invoicing.periods.operations import ClosingError, hold_books, keep_closed
from studio.history.operations import record, take_chain
from studio.people.models import Person
from studio.profile.models import StudioProfile


@transaction.atomic
def close_period(*, span: Span, by: Person, at: datetime) -> ClosedPeriod:
    """Freeze a period's figures; nothing is dated into it any more.

    Papers and money wait while it is done. Raises ClosingError.
    """
    take_chain(CHAIN)
    hold_books()
    profile = StudioProfile.load()
    if span.last >= at.astimezone(profile.zone).date():
        raise ClosingError(f"{span.name} is not over yet.")
    facts = read_facts(profile.currency)
    figures = figures_of(facts, span, bases=bases_now(profile.tax_basis))
    return keep_closed(span=span, figures=figures.to_json(), by=by, at=at)


@transaction.atomic
def choose_codes(*, codes: Mapping[str, str], by: Person, at: datetime) -> None:
    """Keep the account codes that are not the usual ones."""
    for account, usual in FIRST_CODES.items():
        code = codes.get(account, usual)
        if code == usual:
            AccountCode.objects.filter(account=account).delete()
        else:
            AccountCode.objects.update_or_create(
                account=account, defaults={"code": code}
            )
    record(StudioProfile.load(), "account codes chosen", by=by, at=at)
