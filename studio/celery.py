"""Celery's application: tasks that sweep rows, and how often."""

import os
from pathlib import Path

from celery import Celery

from studio.schedule import beat_schedule
from studio.sqlite import use_newer_sqlite

use_newer_sqlite()
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")

APPS = ("studio", "jobs", "planning", "invoicing")


def packages_with_tasks() -> list[str]:
    """Return every package of an app that holds a tasks.py."""
    root = Path(__file__).resolve().parent.parent
    return [
        f"{app}.{tasks.parent.name}"
        for app in APPS
        for tasks in sorted((root / app).glob("*/tasks.py"))
    ]


app = Celery("northsill")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.conf.beat_schedule = beat_schedule()
app.autodiscover_tasks(packages_with_tasks)
