"""One row of folded words for each thing that the search box finds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar, Final, Self

from django.db import models
from django.db.models import Q, Value
from django.db.models.functions import Concat

from studio.finding.words import (
    LONGEST_OWN,
    LONGEST_PHONE,
    LONGEST_WORDS,
    Words,
    asked,
    asked_number,
    columns_of,
    whose_words,
)

BATCH: Final = 500


class FindableWordsQuerySet(models.QuerySet["FindableWords"]):
    """Narrow the rows of words down."""

    def found(self, kind: type[Findable], text: str) -> Self:
        """Keep the rows of one kind that hold each word, or the number that is rung."""
        condition = Q()
        for word in asked(text):
            condition &= Q(words__contains=word)
        if kind.is_rung and (digits := asked_number(text)):
            condition |= Q(words__contains=digits)
        return self.filter(condition, kind=kind._meta.label_lower)

    def leading_to(self, kind: type[Findable], text: str) -> Q:
        """Return that a row of the kind is found; true of all where no word is."""
        rows = self.found(kind, text).values("row_id")
        return Q(pk__in=rows) if asked(text) else Q()

    def rename(self, whose_id: int, names: tuple[str, ...]) -> int:
        """Let all that belongs to a client be found by other names."""
        words = Concat("own", Value(whose_words(names)))
        return self.filter(whose_id=whose_id).update(words=words)

    def newest(self, kind: type[Findable], text: str, most: int) -> list[int]:
        """Return the keys of the newest things of the kind that hold the words."""
        rows = self.found(kind, text).order_by("-at").values_list("row_id", flat=True)
        return list(rows[:most])


FindableWordsManager = models.Manager.from_queryset(FindableWordsQuerySet)


class FindableWords(models.Model):
    """The words of one source row, and which row of which kind they lead to.

    A narrow copy: the index holds what a search needs, in the order in which finds are
    shown, so that it reads neither this table nor the wide ones. `words` is `own` and
    after it the names of the client whom the row belongs to.
    """

    source = models.CharField(max_length=40)
    source_id = models.BigIntegerField()
    kind = models.CharField(max_length=40)
    row_id = models.BigIntegerField()
    at = models.DateTimeField(null=True)
    own = models.CharField(max_length=LONGEST_OWN + LONGEST_PHONE)
    words = models.CharField(max_length=LONGEST_WORDS)
    whose_id = models.BigIntegerField(null=True, db_index=True)

    objects = FindableWordsManager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                name="findable_words_once", fields=["source", "source_id"]
            ),
        ]
        indexes = [
            models.Index(
                name="findable_words_by_kind",
                fields=["kind", "-at", "row_id", "words"],
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.row_id}"


class Findable(models.Model):
    """A row that the search box finds: saving it keeps its words up to date.

    `found_by` names the fields that its words are made of, `found_with` the rows to be
    read along; `leads_to` the model that is found, where the row only belongs to it.
    What `is_rung` is found by phone numbers, too.
    """

    found_by: ClassVar[frozenset[str]] = frozenset()
    leads_to: ClassVar[type[models.Model] | None] = None
    found_with: ClassVar[tuple[str, ...]] = ()
    is_rung: ClassVar[bool] = False

    class Meta:
        abstract = True

    def save(
        self, *args: Any, update_fields: Iterable[str] | None = None, **kwargs: Any
    ) -> None:
        """Save the row, and its words where they may have changed."""
        if update_fields is not None:
            update_fields = frozenset(update_fields)
        super().save(*args, update_fields=update_fields, **kwargs)
        if update_fields is None or update_fields & self.found_by:
            keep_words([self])

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Delete the row and its words."""
        FindableWords.objects.filter(
            source=self._meta.label_lower, source_id=self.pk
        ).delete()
        return super().delete(*args, **kwargs)

    @classmethod
    def to_be_found(cls) -> models.QuerySet[Self]:
        """Return all rows, read with what their words are made of."""
        return cls._default_manager.select_related(*cls.found_with)

    def words(self) -> Words:
        """Return what this row is found by."""
        raise TypeError(f"{type(self).__name__} does not say what it is found by")


def keep_words(rows: Iterable[Findable]) -> None:
    """Write the words of rows anew; needed after a change that saves no single row."""
    FindableWords.objects.bulk_create(
        [words_of(row) for row in rows],
        batch_size=BATCH,
        update_conflicts=True,
        unique_fields=["source", "source_id"],
        update_fields=["kind", "row_id", "at", "own", "words", "whose_id"],
    )


def words_of(row: Findable) -> FindableWords:
    """Return the words that should be kept for a row, unsaved."""
    kind = row.leads_to or type(row)
    fields = columns_of(row.words(), pk=row.pk)
    return FindableWords(
        source=row._meta.label_lower, kind=kind._meta.label_lower, **fields
    )
