"""What a sum is most likely for, by hand and for any sums."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from invoicing.payments.proposing import OpenSum, proposed


def owed(pk: int, minor: int, day: int) -> OpenSum:
    return OpenSum(
        pk=pk,
        marks=(f"2026-000{pk}", f"J-2026-00{pk}"),
        due_on=date(2026, 6, day),
        minor=minor,
    )


OPEN = [owed(1, 5_000, 20), owed(2, 3_000, 10), owed(3, 7_000, 15)]


def test_the_oldest_due_comes_first_and_the_rest_goes_on() -> None:
    assert proposed(9_000, OPEN) == {2: 3_000, 3: 6_000}


def test_one_of_just_this_sum_comes_before_an_older_one() -> None:
    assert proposed(5_000, OPEN) == {1: 5_000}


def test_what_the_reference_names_comes_before_both() -> None:
    assert proposed(5_000, OPEN, reference="inv 2026-0003, thanks") == {3: 5_000}
    assert proposed(9_000, OPEN, reference="J-2026-001") == {
        1: 5_000,
        2: 3_000,
        3: 1_000,
    }


def test_a_number_within_a_longer_one_names_nothing() -> None:
    assert proposed(5_000, OPEN, reference="2026-00031") == {1: 5_000}


@given(
    minor=st.integers(0, 20_000),
    sums=st.lists(st.tuples(st.integers(1, 9_000), st.integers(1, 28)), max_size=8),
    reference=st.sampled_from(["", "2026-0001", "2026-0003 J-2026-002", "?"]),
)
def test_no_penny_is_lost_or_set_twice(
    minor: int, sums: list[tuple[int, int]], reference: str
) -> None:
    invoices = [owed(pk, *one) for pk, one in enumerate(sums)]

    shares = proposed(minor, invoices, reference=reference)

    by_pk = {one.pk: one.minor for one in invoices}
    assert all(0 < share <= by_pk[pk] for pk, share in shares.items())
    assert sum(shares.values()) == min(minor, sum(by_pk.values()))
    part_paid = [pk for pk, share in shares.items() if share < by_pk[pk]]
    assert len(part_paid) <= 1
