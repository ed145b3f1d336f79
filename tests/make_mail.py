"""Builders of messages."""

from datetime import datetime
from itertools import count
from typing import Any

from django.db import transaction

from studio.mail.models import Message
from studio.mail.operations import Letter, write_message
from studio.profile.models import StudioProfile
from tests.make import NOON

_next = count(1)


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
            occasion=f"test:{next(_next)}",
            about=StudioProfile.load(),
            letter=letter,
            at=at,
            **fields,
        )
