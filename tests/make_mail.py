"""Builders of messages."""

from datetime import datetime
from typing import Any
from uuid import uuid4

from django.db import transaction

from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.profile.models import StudioProfile
from tests.make import NOON


def make_message(
    *, at: datetime = NOON, body: str = "The text.\n", **fields: Any
) -> Message:
    letter = Letter(
        address=fields.pop("address", "meyer@example.org"),
        recipient_name=fields.pop("recipient_name", "Meyer Bakery"),
        subject=fields.pop("subject", "Your session"),
        body=body,
    )
    with transaction.atomic():
        return write_message(
            occasion=f"test:{uuid4()}",
            about=StudioProfile.load(),
            letter=letter,
            at=at,
            **fields,
        )
