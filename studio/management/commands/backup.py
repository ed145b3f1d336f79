"""`manage.py backup FILE`: copy everything into one file."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from studio.backups.operations import back_up_to
from studio.errors import DomainError


class Command(BaseCommand):
    """Write a copy of the studio's whole database into one file."""

    help = "Copy the studio's whole database into FILE, while it may be in use."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file's name."""
        parser.add_argument("file", type=Path, metavar="FILE")

    def handle(self, *_: Any, file: Path, **_options: Any) -> None:
        """Make the copy and say what it holds."""
        try:
            manifest = back_up_to(file, at=timezone.now())
        except DomainError as refusal:
            raise CommandError(str(refusal)) from refusal
        size_kb = file.stat().st_size / 1000
        self.stdout.write(
            f"{file}: {size_kb:,.0f} kB, journal up to entry "
            f"{manifest.facts.journal_sequence}.\n"
            "The file holds personal data and is not encrypted: keep it as safe as "
            "the studio itself."
        )
