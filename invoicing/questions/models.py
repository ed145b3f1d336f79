"""Questions that are pinned to an invoice or to a purchase."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from invoicing.invoices.models import Invoice
from invoicing.purchases.models import Purchase


class PaperQuestionQuerySet(models.QuerySet["PaperQuestion"]):
    """Narrow questions down."""

    def waiting(self) -> Self:
        """Keep the ones without an answer."""
        return self.filter(answered_at__isnull=True)


PaperQuestionManager = models.Manager.from_queryset(PaperQuestionQuerySet)


class PaperQuestion(models.Model):
    """One question about one paper; it waits on the owner's Today."""

    invoice = models.ForeignKey(
        Invoice, models.PROTECT, null=True, blank=True, related_name="questions"
    )
    purchase = models.ForeignKey(
        Purchase, models.PROTECT, null=True, blank=True, related_name="questions"
    )
    question = models.CharField(max_length=300)
    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    answer = models.CharField(max_length=300, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )

    objects = PaperQuestionManager()

    class Meta:
        ordering = ["asked_at", "pk"]
        constraints = [
            models.CheckConstraint(
                name="question_is_about_one_paper",
                condition=Q(invoice__isnull=False, purchase__isnull=True)
                | Q(invoice__isnull=True, purchase__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return self.question

    @property
    def about(self) -> Invoice | Purchase:
        """The paper that it is about."""
        paper = self.invoice or self.purchase
        if paper is None:
            raise ValueError("a question is about a paper")
        return paper
