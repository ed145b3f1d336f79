"""Finding rows by words, whatever letters they are written in."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from django.db.models import Q

MOST_WORDS: Final = 8
FEWEST_DIGITS: Final = 4


def holding_words(words: str, *fields: str) -> Q:
    """Return the condition that each word stands in one of the fields.

    SQLite folds the case of ASCII letters only, so Greek and Cyrillic words are looked
    for in each case that they are written in.
    """

    def in_any(word: str) -> Q:
        condition = Q()
        for field in fields:
            for written in _cases(word):
                condition |= Q(**{f"{field}__icontains": written})
        return condition

    return each_word(words, in_any)


def each_word(words: str, condition_of: Callable[[str], Q]) -> Q:
    """Return the condition that what is asked of one word holds for each of them."""
    condition = Q()
    for word in _printable(words).split()[:MOST_WORDS]:
        condition &= condition_of(word)
    return condition


def same_text(text: str, *fields: str) -> Q:
    """Return the condition that one of the fields is the text, in whatever case."""
    condition = Q(pk__in=[])
    for field in fields:
        for written in _cases(_printable(text)):
            condition |= Q(**{f"{field}__iexact": written})
    return condition


def holding_number(words: str, *fields: str) -> Q:
    """Return the condition that a field holds a phone number, or a part of one.

    Numbers are kept as +441632960101 and typed as 01632 960101.
    """
    digits = "".join(sign for sign in words if sign in "0123456789").lstrip("0")
    condition = Q(pk__in=[])
    if len(digits) < FEWEST_DIGITS or any(sign.isalpha() for sign in words):
        return condition
    for field in fields:
        condition |= Q(**{f"{field}__contains": digits})
        condition |= Q(**{f"{field}__contains": _printable(words).strip()})
    return condition


def _cases(word: str) -> Iterator[str]:
    forms = [word]
    if not word.isascii():
        forms += [word.lower(), word.upper(), word.capitalize(), word.title()]
    yield from dict.fromkeys(forms)


def _printable(words: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in words)
