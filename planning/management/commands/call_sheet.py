"""Print a booking's call sheet to a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from jobs.bookings.models import Booking
from planning.callsheets.documents import print_call_sheet
from planning.callsheets.queries import last_call_sheet, printed_call_sheet


class Command(BaseCommand):
    """Print what is planned for a booking, without making a version of it."""

    help = "Print the call sheet of a booking, by its number, to a PDF file."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the booking's number and where the paper goes."""
        parser.add_argument("booking", type=int)
        parser.add_argument("--out", type=Path, required=True, metavar="FILE")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write the paper, and say how large it is."""
        bookings = Booking.objects.select_related("place", "job__client", "job__owner")
        booking = bookings.filter(pk=options["booking"]).first()
        if booking is None:
            raise CommandError(f"There is no booking {options['booking']}.")
        last = last_call_sheet(booking)
        version = last.version if last else 1
        sheet = printed_call_sheet(booking, version=version, at=timezone.now())
        paper = print_call_sheet(sheet)
        try:
            options["out"].write_bytes(paper)
        except OSError as fault:
            raise CommandError(f"{options['out']} cannot be written: {fault}") from None
        self.stdout.write(f"{options['out']}: {len(paper):,} bytes, version {version}")
