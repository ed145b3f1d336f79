"""Jobs: one piece of work for one client, from the enquiry on."""

from __future__ import annotations

from datetime import date
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from jobs.clients.models import Client
from jobs.jobs.choices import Channel, LostReason, Source
from jobs.jobs.states import OPEN, QUARTERS, JobStage
from studio.finding.models import Findable, FindableWords
from studio.finding.words import Words


class JobQuerySet(models.QuerySet["Job"]):
    """Narrow jobs down."""

    def open(self) -> Self:
        """Keep the jobs that still have something to be done."""
        return self.filter(stage__in=OPEN)

    def matching(self, words: str) -> Self:
        """Keep the jobs whose number, title or client holds the words."""
        return self.filter(FindableWords.objects.leading_to(Job, words))

    def unanswered(self, *, by: date) -> Self:
        """Keep the enquiries whose promised reply is due by a day."""
        waiting = self.filter(stage=JobStage.ENQUIRY, answered_at__isnull=True)
        return waiting.filter(reply_by_on__lte=by)

    def to_nudge(self, *, by: date) -> Self:
        """Keep the jobs without a yes whose day to ask again has come."""
        return self.filter(
            stage__in=[JobStage.ENQUIRY, JobStage.QUOTED], nudge_on__lte=by
        )


JobManager = models.Manager.from_queryset(JobQuerySet)


class Job(Findable):
    """One piece of work for one client. It starts as an enquiry."""

    number = models.CharField(max_length=40, unique=True)
    client = models.ForeignKey(Client, models.PROTECT, related_name="jobs")
    title = models.CharField(max_length=200)
    stage = models.CharField(max_length=12, choices=JobStage, default=JobStage.ENQUIRY)
    wish = models.TextField(max_length=4000, blank=True)
    wished_on = models.DateField(null=True, blank=True)
    came_in = models.CharField(max_length=8, choices=Channel, default=Channel.PHONE)
    source = models.CharField(max_length=12, choices=Source, blank=True)
    came_by = models.CharField(max_length=80, blank=True)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+"
    )
    enquired_at = models.DateTimeField()
    reply_by_on = models.DateField()
    answered_at = models.DateTimeField(null=True, blank=True)
    nudge_on = models.DateField(null=True, blank=True)
    pictures_by_on = models.DateField(null=True, blank=True)
    delivered_at = models.DateTimeField(null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_because = models.CharField(max_length=200, blank=True)
    lost_reason = models.CharField(max_length=12, choices=LostReason, blank=True)
    may_show_pictures = models.BooleanField(null=True, blank=True)

    objects = JobManager()
    found_by = frozenset({"number", "title", "client"})
    found_with = ("client",)

    class Meta:
        ordering = ["-enquired_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                name="job_closed_has_its_time",
                condition=Q(stage__in=OPEN) | Q(closed_at__isnull=False),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"

    def words(self) -> Words:
        """Return what the job is found by."""
        return Words(
            own=(self.number, self.title),
            whose=self.client.known_as,
            whose_id=self.client_id,
            at=self.enquired_at,
        )

    def get_absolute_url(self) -> str:
        """Return the job's page."""
        return reverse("jobs:job", args=[self.pk])

    @property
    def quarters(self) -> int:
        """How many quarters of the stage's circle are filled."""
        return QUARTERS[JobStage(self.stage)]

    @property
    def waits_for_answer(self) -> bool:
        """Whether nobody has answered the enquiry yet."""
        return self.stage == JobStage.ENQUIRY and self.answered_at is None

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done."""
        return self.stage in OPEN
