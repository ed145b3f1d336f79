"""Doing one entry of the schedule: here, or by handing it to the broker."""

from __future__ import annotations

import logging

from celery import Task
from django.db import close_old_connections

from studio.celery import app
from studio.schedule import Entry

logger = logging.getLogger(__name__)


def find_tasks() -> None:
    """Import every task of every app."""
    app.loader.import_default_modules()


def do_here(entry: Entry) -> bool:
    """Run an entry's task in this process; False if no app has such a task.

    A task's fault is logged and forgotten: its rows wait for the next round.
    """
    task = _task(entry)
    if task is None:
        return False
    close_old_connections()
    try:
        task()
    except Exception:  # the lane goes on
        logger.exception("%s failed", entry.task)
    finally:
        close_old_connections()
    return True


def hand_over(entry: Entry) -> bool:
    """Publish an entry's task to the broker; False if no app has such a task."""
    if _task(entry) is None:
        return False
    try:
        app.send_task(entry.task, expires=max(entry.every.total_seconds(), 60))
    except Exception as fault:  # noqa: BLE001 - whatever the broker's library raises
        logger.warning("%s was not handed to the broker: %s", entry.task, fault)
    return True


def _task(entry: Entry) -> Task | None:
    task: Task | None = app.tasks.get(entry.task)
    if task is None:
        logger.info("%s is left out: no app has a task of that name", entry.task)
    return task
