from datetime import date

import pytest
from django.db import transaction

from studio.series.models import SeriesKind
from studio.series.operations import take_number
from tests.make import make_profile

pytestmark = pytest.mark.django_db
DAY = date(2027, 3, 1)


def written(kind: SeriesKind, on: date = DAY) -> str:
    with transaction.atomic():
        return take_number(kind, on=on).written


def test_each_kind_counts_in_a_series_of_its_own_alike_in_nothing() -> None:
    assert [written(kind) for kind in SeriesKind] == [
        "Q-2027-001",
        "J-2027-001",
        "2027-0001",
        "CN-2027-001",
    ]
    assert written(SeriesKind.QUOTE) == "Q-2027-002"


def test_each_year_starts_at_one() -> None:
    written(SeriesKind.INVOICE)

    assert written(SeriesKind.INVOICE, date(2028, 1, 1)) == "2028-0001"
    assert written(SeriesKind.INVOICE) == "2027-0002"


def test_a_number_that_is_rolled_back_is_taken_again() -> None:
    written(SeriesKind.INVOICE)
    with transaction.atomic():
        take_number(SeriesKind.INVOICE, on=DAY)
        transaction.set_rollback(True)

    assert written(SeriesKind.INVOICE) == "2027-0002"


def test_the_studio_writes_its_numbers_as_it_likes() -> None:
    make_profile(invoice_pattern="R{place:05d}/{year}")

    assert written(SeriesKind.INVOICE) == "R00001/2027"


def test_a_number_is_not_taken_outside_a_transaction(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    connection = transaction.get_connection()
    monkeypatch.setattr(connection, "in_atomic_block", False)

    with pytest.raises(RuntimeError, match="inside a transaction"):
        take_number(SeriesKind.INVOICE, on=DAY)
