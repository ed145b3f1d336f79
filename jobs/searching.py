"""Finding rows by words, whatever letters they are written in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from django.db.models import Q

MOST_WORDS: Final = 8


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

    condition = Q()
    for word in _printable(words).split()[:MOST_WORDS]:
        condition &= in_any(word)
    return condition


def same_text(text: str, *fields: str) -> Q:
    """Return the condition that one of the fields is the text, in whatever case."""
    condition = Q(pk__in=[])
    for field in fields:
        for written in _cases(_printable(text)):
            condition |= Q(**{f"{field}__iexact": written})
    return condition


def _cases(word: str) -> Iterator[str]:
    forms = [word]
    if not word.isascii():
        forms += [word.lower(), word.upper(), word.capitalize(), word.title()]
    yield from dict.fromkeys(forms)


def _printable(words: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in words)
