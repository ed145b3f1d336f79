"""The stages of a job, from the first word to the money in the bank."""

from typing import Final

from django.db import models

from studio.errors import DomainError


class JobStage(models.TextChoices):
    """How far a job has come."""

    ENQUIRY = "ENQUIRY", "Enquiry"
    QUOTED = "QUOTED", "Quoted"
    BOOKED = "BOOKED", "Booked"
    SHOT = "SHOT", "Shot"
    DELIVERED = "DELIVERED", "Delivered"
    PAID = "PAID", "Closed, paid"
    LOST = "LOST", "Closed, not taken"
    CANCELLED = "CANCELLED", "Cancelled"


MOVES: Final = {
    JobStage.ENQUIRY: {JobStage.QUOTED, JobStage.BOOKED, JobStage.LOST},
    JobStage.QUOTED: {JobStage.BOOKED, JobStage.LOST},
    JobStage.BOOKED: {JobStage.SHOT, JobStage.CANCELLED},
    JobStage.SHOT: {JobStage.DELIVERED, JobStage.PAID},
    JobStage.DELIVERED: {JobStage.PAID},
    JobStage.PAID: set[JobStage](),
    JobStage.LOST: {JobStage.ENQUIRY},
    JobStage.CANCELLED: set[JobStage](),
}

OPEN: Final = (
    JobStage.ENQUIRY,
    JobStage.QUOTED,
    JobStage.BOOKED,
    JobStage.SHOT,
    JobStage.DELIVERED,
)

QUARTERS: Final = {
    JobStage.ENQUIRY: 0,
    JobStage.QUOTED: 1,
    JobStage.BOOKED: 2,
    JobStage.SHOT: 3,
    JobStage.DELIVERED: 4,
    JobStage.PAID: 4,
    JobStage.LOST: 0,
    JobStage.CANCELLED: 0,
}
"""How many quarters of the stage's circle are filled."""


class JobMoveError(DomainError):
    """A job was asked to go to a stage that it cannot reach from its own."""


def move(current: str, to: JobStage) -> JobStage:
    """Return the new stage, or raise JobMoveError."""
    stage = JobStage(current)
    if to not in MOVES[stage]:
        raise JobMoveError(
            f"A job at the stage “{stage.label.lower()}” cannot become "
            f"“{to.label.lower()}”."
        )
    return to
