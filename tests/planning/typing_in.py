"""What a browser sends of a set-up's form when nothing is changed in it."""

from datetime import time
from typing import Any

from django.db.models import Model

from planning.shoots.forms import initial_of
from planning.shoots.models import SetUp


def typed_of(set_up: SetUp, **changed: str) -> dict[str, str]:
    initial = initial_of(set_up, set_up.plan.booking.place.zone)
    return {name: _text(value) for name, value in initial.items()} | changed


def _text(value: Any) -> str:
    if value is None or value is False:
        return ""
    if isinstance(value, Model):
        return str(value.pk)
    return f"{value:%H:%M}" if isinstance(value, time) else str(value)
