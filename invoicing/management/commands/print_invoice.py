"""Write an issued paper's PDF to a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from invoicing.invoices.finishing import finish_document
from invoicing.invoices.models import Invoice


class Command(BaseCommand):
    """Give the bytes that are kept of an issued invoice or credit note."""

    help = "Write the PDF of an issued invoice or credit note, by its number."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the paper's number and where its PDF goes."""
        parser.add_argument("number")
        parser.add_argument("--out", type=Path, required=True, metavar="FILE")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write the bytes, and say how many and their SHA-256."""
        invoice = Invoice.objects.filter(number=options["number"]).first()
        if invoice is None:
            raise CommandError(f"No paper was issued as {options['number']}.")
        file = finish_document(invoice_id=invoice.pk, at=timezone.now())
        try:
            options["out"].write_bytes(bytes(file.content))
        except OSError as fault:
            raise CommandError(f"{options['out']} cannot be written: {fault}") from None
        self.stdout.write(
            f"{options['out']}: {file.size:,} bytes, SHA-256 {file.sha256}"
        )
