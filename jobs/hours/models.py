"""Working time of a job, stage by stage."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.jobs.models import Job
from jobs.jobs.states import JobStage


class WorkedTime(models.Model):
    """Minutes that one person worked on a job; none yet while the clock runs."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="worked_times")
    stage = models.CharField(max_length=12, choices=JobStage)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="worked_times"
    )
    began_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["-began_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                name="one_clock_runs_a_person",
                fields=["person"],
                condition=Q(minutes__isnull=True),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.minutes} minutes of {self.person} on {self.job}"
