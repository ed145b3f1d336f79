"""Celery's application: tasks that sweep rows, and how often."""

import os

from celery import Celery

from studio.sqlite import use_newer_sqlite

use_newer_sqlite()
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")

app = Celery("northsill")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
