"""`manage.py restore FILE`: put a copy back."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from studio.backups.restoring import restore
from studio.errors import DomainError


class Command(BaseCommand):
    """Put a copy in the place of the database, after checking all of it."""

    help = "Put the copy in FILE in the place of the database. Stop the studio first."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file's name, and whether work may be replaced."""
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument(
            "--replace",
            action="store_true",
            help="replace a database that holds work; it is copied first",
        )

    def handle(self, *_: Any, file: Path, replace: bool, **_options: Any) -> None:
        """Restore and say what was done."""
        try:
            done = restore(file, replace=replace, at=timezone.now())
        except DomainError as refusal:
            raise CommandError(str(refusal)) from refusal
        if done.safety_copy:
            self.stdout.write(f"What was here before is in {done.safety_copy}.")
        facts = done.manifest.facts
        self.stdout.write(
            f"Restored the copy of {facts.made_at}, journal up to entry "
            f"{facts.journal_sequence}.\n"
            "Everybody signs in anew on another machine. Letters that wait with a "
            "private link need a new link there: see Mail."
        )
