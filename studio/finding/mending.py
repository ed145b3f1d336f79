"""Words that are no longer those of their rows, found and put right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Any, Final

from django.apps import apps
from django.db.models import QuerySet

from studio.finding.models import Findable, FindableWords, keep_words, words_of

BATCH: Final = 500
COLUMNS: Final = ("kind", "row_id", "at", "own", "words", "whose_id")


def mend_words() -> int:
    """Write what is missing or stale anew, drop what is left over; return how many.

    Operations keep the words as they go; this is for what they did not see: a row that
    was put in by other hands, or a copy of older work.
    """
    mended = 0
    for kind in findable_kinds():
        for rows in stale_rows(kind):
            keep_words(rows)
            mended += len(rows)
        mended += left_over(kind).delete()[0]
    return mended


def faults() -> Iterator[str]:
    """Yield a sentence for each kind of rows whose words are not as they should be."""
    for kind in findable_kinds():
        wrong = sum(len(rows) for rows in stale_rows(kind)) + left_over(kind).count()
        if wrong:
            yield f"The search box has not the words of {wrong} of {kind._meta.label}."


def findable_kinds() -> list[type[Findable]]:
    """Return every kind of rows that keeps words."""
    return [kind for kind in apps.get_models() if issubclass(kind, Findable)]


def stale_rows(kind: type[Findable]) -> Iterator[list[Findable]]:
    """Yield the rows whose words are missing or others, some at a time."""
    rows = kind.to_be_found().order_by("pk").iterator(chunk_size=BATCH)
    while batch := list(islice(rows, BATCH)):
        kept = FindableWords.objects.filter(
            source=kind._meta.label_lower, source_id__in=[row.pk for row in batch]
        )
        as_kept = {words.source_id: _columns(words) for words in kept}
        yield [row for row in batch if as_kept.get(row.pk) != _columns(words_of(row))]


def left_over(kind: type[Findable]) -> QuerySet[FindableWords]:
    """Return the words whose row is not there any more."""
    rows = kind._default_manager.order_by().values("pk")
    words = FindableWords.objects.filter(source=kind._meta.label_lower)
    return words.exclude(source_id__in=rows)


def _columns(words: FindableWords) -> tuple[Any, ...]:
    return tuple(getattr(words, name) for name in COLUMNS)
