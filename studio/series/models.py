"""Number series: one counter row for each kind and year."""

from django.db import models


class SeriesKind(models.TextChoices):
    """What is numbered; each kind has a series of its own."""

    QUOTE = "QUOTE", "Quotes"
    JOB = "JOB", "Jobs"
    INVOICE = "INVOICE", "Invoices"
    CREDIT_NOTE = "CREDIT_NOTE", "Credit notes"


class SeriesCounter(models.Model):
    """The last number taken in one series of one year."""

    kind = models.CharField(max_length=12, choices=SeriesKind)
    year = models.PositiveIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(name="series_once_a_year", fields=["kind", "year"]),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.year}: {self.last}"
