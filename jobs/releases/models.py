"""Sitters, and what they or their guardians allow to be done with their pictures."""

from __future__ import annotations

from datetime import date
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from jobs.clients.models import Client
from studio.files.models import StoredFile


class Use(models.TextChoices):
    """What pictures of somebody may be used for."""

    PORTFOLIO = "PORTFOLIO", "The studio’s own pages and portfolio"
    SOCIAL = "SOCIAL", "The studio’s social media"
    PRINT = "PRINT", "Prints on show, fairs and the studio’s walls"
    CLIENT = "CLIENT", "The client’s pages, papers and advertising"
    PRESS = "PRESS", "Newspapers and magazines"
    CONTEST = "CONTEST", "Competitions and exhibitions"


class How(models.TextChoices):
    """How a release was signed."""

    PAPER = "PAPER", "On paper"
    PAGE = "PAGE", "On the private page"


class Sitter(models.Model):
    """Somebody who is photographed; a child has somebody who decides for it."""

    client = models.ForeignKey(Client, models.PROTECT, related_name="sitters")
    name = models.CharField(max_length=200)
    is_child = models.BooleanField(default=False)
    guardian_name = models.CharField(max_length=200, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    notes = models.TextField(max_length=1000, blank=True)
    added_at = models.DateTimeField()

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                name="sitter_child_has_a_guardian",
                condition=Q(is_child=False) | ~Q(guardian_name=""),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the sitter's page."""
        return reverse("jobs:sitter", args=[self.pk])

    @property
    def signer(self) -> str:
        """Who signs: the guardian of a child, or the sitter."""
        return self.guardian_name if self.is_child else self.name


class Release(models.Model):
    """One paper or page that was put to a sitter, and who signed it when.

    The words are kept as they were shown; what was signed is never written anew.
    """

    sitter = models.ForeignKey(Sitter, models.PROTECT, related_name="releases")
    words = models.TextField(max_length=6000)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    how = models.CharField(max_length=5, choices=How, blank=True)
    signed_at = models.DateTimeField(null=True, blank=True)
    signed_by = models.CharField(max_length=200, blank=True)
    scan = models.ForeignKey(
        StoredFile, models.PROTECT, null=True, blank=True, related_name="+"
    )
    network_address = models.CharField(max_length=60, blank=True)
    browser = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="release_signed_says_how_and_by_whom",
                condition=Q(signed_at__isnull=True) | (~Q(how="") & ~Q(signed_by="")),
            ),
        ]

    def __str__(self) -> str:
        return f"Release {self.pk} of {self.sitter}"

    def get_absolute_url(self) -> str:
        """Return the release's page."""
        return reverse("jobs:release", args=[self.pk])


class AllowedUseQuerySet(models.QuerySet["AllowedUse"]):
    """Narrow allowed uses down."""

    def standing(self, *, on: date) -> Self:
        """Keep the uses that are signed, in time and not withdrawn."""
        return self.filter(
            Q(until_on__isnull=True) | Q(until_on__gte=on),
            release__signed_at__isnull=False,
            withdrawn_at__isnull=True,
        )


AllowedUseManager = models.Manager.from_queryset(AllowedUseQuerySet)


class AllowedUse(models.Model):
    """One use that a release asks for, until when, and whether it was taken back."""

    release = models.ForeignKey(Release, models.CASCADE, related_name="uses")
    use = models.CharField(max_length=10, choices=Use)
    until_on = models.DateField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    withdrawn_words = models.CharField(max_length=300, blank=True)

    objects = AllowedUseManager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                name="allowed_use_once_a_release", fields=["release", "use"]
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_use_display()} by {self.release}"


class PictureUse(models.Model):
    """Where pictures of somebody went, under a use that was allowed then."""

    allowed = models.ForeignKey(AllowedUse, models.PROTECT, related_name="pictures")
    where = models.CharField(max_length=300)
    used_on = models.DateField()
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    noted_at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-used_on", "-pk"]

    def __str__(self) -> str:
        return f"{self.where} on {self.used_on}"
