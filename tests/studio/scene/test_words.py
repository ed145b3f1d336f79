import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.scene.words import one_line, printable


@pytest.mark.parametrize(
    ("given_words", "shown"),
    [
        ("plain words", "plain words"),
        ("Ann\u202egnp.exe", "Anngnp.exe"),
        ("zero\u200bwidth\ufeff and \u2066isolate\u2069", "zerowidth and isolate"),
        ("tab\there\x00\x1b[2J", "tab here[2J"),
        ("one\r\ntwo\rthree\u2028four\x85five", "one\ntwo\nthree\nfour\nfive"),
        ("half \ud800 pair \uffff", "half \ufffd pair \ufffd"),
        ("Zoe\u0308", "Zoë"),
        ("heart\u2764\ufe0f", "heart\u2764"),
    ],
)
def test_nothing_hidden_is_left(given_words: str, shown: str) -> None:
    assert printable(given_words) == shown


@given(st.text(st.characters(exclude_categories=()), max_size=60))
def test_any_words_can_be_made_printable(words: str) -> None:
    made = printable(words)

    assert made.replace("\n", "").isprintable() or not made.isascii()
    assert printable(made) == made
    assert "\n" not in one_line(words)
    made.encode("utf-8")
