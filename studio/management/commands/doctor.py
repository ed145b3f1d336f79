"""`manage.py doctor`: what is wrong with the set-up."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from studio.checks.doctor import Level, examine


class Command(BaseCommand):
    """Look at the machine and the settings; exit 1 if anything is wrong."""

    help = "Say what is wrong with the set-up of this machine; exit 1 on a fault."
    requires_system_checks = []

    def handle(self, *_: Any, **_options: Any) -> None:
        """Say every finding, and count the faults."""
        faults = 0
        for finding in examine(at=timezone.now()):
            faults += finding.level == Level.FAULT
            self.stdout.write(f"{finding.level:<8} {finding.sentence}")
        if faults:
            raise CommandError(f"Faults found: {faults}.")
