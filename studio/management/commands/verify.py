"""`manage.py verify`: walk the chains and hold every record against its hash."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from studio.checks import verify


class Command(BaseCommand):
    """Check the studio's records; exit 1 if anything is wrong."""

    help = "Walk the chains of the journal and of issued papers, and check all records."

    def handle(self, *_: Any, **_options: Any) -> None:
        """Say what was looked at and what was found."""
        found = 0
        for verdict in verify():
            said = "NOT in order" if verdict.faults else "in order"
            self.stdout.write(f"{verdict.what}: {said}")
            for fault in verdict.faults:
                self.stdout.write(f"  {fault}")
            found += len(verdict.faults)
        if found:
            raise CommandError(f"Faults found: {found}.")
        self.stdout.write("Everything is in order.")
