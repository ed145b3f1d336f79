"""Times that a phone says: taken where they can be, else refused with a sentence."""

from datetime import UTC, datetime, timedelta

import pytest

from studio.kept import ImpossibleTimeError, made_at

NOW = datetime(2026, 6, 21, 12, tzinfo=UTC)


def test_a_time_of_before_is_taken_as_it_is() -> None:
    assert made_at("2026-06-21T11:20:00.000Z", NOW) == NOW - timedelta(minutes=40)
    assert made_at("2026-06-21T12:20:00+01:00", NOW) == NOW - timedelta(minutes=40)
    assert made_at("", NOW) == NOW


def test_a_clock_a_minute_fast_counts_as_now() -> None:
    assert made_at("2026-06-21T12:01:00Z", NOW) == NOW


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("soon", "could not be read"),
        ("2026-06-21T11:20:00", "no time zone"),
        ("2026-06-21T12:03:00Z", "21 Jun 2026, 12:03 UTC, which is still to come"),
        ("2026-06-18T11:59:00Z", "more than 3 days ago"),
    ],
)
def test_a_time_that_cannot_be_is_refused(given: str, words: str) -> None:
    with pytest.raises(ImpossibleTimeError, match=words):
        made_at(given, NOW)
