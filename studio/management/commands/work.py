"""`manage.py work`: the background work of the studio, in one process."""

import logging
import os
from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from studio.work.doing import do_here, find_tasks, hand_over
from studio.work.worker import Worker, stop_on_signals, stop_with_parent


class Command(BaseCommand):
    """Do the background work until told to stop."""

    help = (
        "Send mail, make papers and keep the schedule. `start` runs this by itself; "
        "with REDIS_URL it publishes the schedule for Celery workers."
    )
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the flag that `start` sets."""
        parser.add_argument(
            "--leashed",
            action="store_true",
            help="end when standard input closes, as `start` arranges",
        )

    def handle(self, *_: Any, leashed: bool, **_options: Any) -> None:
        """Run both lanes; a lane that hangs is ended with the process."""
        find_tasks()
        worker = Worker(do=hand_over if settings.REDIS_URL else do_here)
        stop_on_signals(worker.stop, leashed=leashed)
        if leashed:
            stop_with_parent(worker.stop)
        outcome = worker.run()
        logging.shutdown()
        os._exit(outcome)
