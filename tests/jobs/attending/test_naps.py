from datetime import time

import pytest

from jobs.attending.naps import NapError, nap_words, read_naps


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ""),
        ("12:30–14:00", "12:30–14:00"),
        ("12.30 - 14", "12:30–14:00"),
        ("9 to 10 and 16:15 until 17:00", "09:00–10:00, 16:15–17:00"),
        ("9-10; 13h00-14h30,", "09:00–10:00, 13:00–14:30"),
    ],
)
def test_nap_times_are_read_as_people_write_them(text: str, words: str) -> None:
    naps = read_naps(text)

    assert nap_words(naps) == words
    assert read_naps(words) == naps


def test_a_nap_is_two_times_of_day() -> None:
    assert read_naps("12:30–14") == ((time(12, 30), time(14)),)


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("after lunch", "Write from when to when, like 12:30–14:00."),
        ("14:00–12:30", "The nap 14:00–12:30 ends before it starts."),
        ("12:00–25:00", "25:00 is no time of day."),
        ("1-2, 3-4, 5-6, 7-8, 9-10", "Write 4 naps at most."),
    ],
)
def test_what_is_no_nap_is_refused_in_words(text: str, refusal: str) -> None:
    with pytest.raises(NapError, match=refusal):
        read_naps(text)
