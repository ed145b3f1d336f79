"""Stored files: bytes with their SHA-256, added once and never rewritten."""

from typing import Final

from django.db import models

from studio.guards import expect, insert_only


class StoredFile(models.Model):
    """A paper that was made or a scan that was taken in."""

    name = models.CharField(max_length=160)
    content_type = models.CharField(max_length=80)
    size = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64, db_index=True)
    content = models.BinaryField()
    stored_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.name


FILE_GUARD: Final = expect(
    insert_only("studio_storedfile", "stored files are never rewritten")
)
