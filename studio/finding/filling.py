"""Words for the rows that were there before words were kept; migrations use it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from django.db.models import QuerySet

from studio.finding.words import Words, columns_of

BATCH: Final = 500


def fill(
    kept: type[Any],
    rows: QuerySet[Any],
    words: Callable[[Any], Words],
    *,
    kind: str = "",
) -> None:
    """Write the words of rows as `kept`, the table of words as it is at that step."""
    label = rows.model._meta.label_lower
    batch = []
    for row in rows.iterator(chunk_size=BATCH):
        columns = columns_of(words(row), pk=row.pk)
        batch.append(kept(source=label, kind=kind or label, **columns))
        if len(batch) == BATCH:
            kept.objects.bulk_create(batch)
            batch = []
    kept.objects.bulk_create(batch)
