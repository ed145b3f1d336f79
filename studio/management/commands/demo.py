"""`manage.py demo`: load the invented studio into an empty database."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from studio.errors import DomainError
from studio.start.people import KEPT, open_demo
from studio.start.prepare import prepare


class Command(BaseCommand):
    """Load the demo without serving it."""

    help = "Load the invented studio into an empty database; refuses a used one."
    requires_system_checks = []

    def handle(self, *_: Any, **_options: Any) -> None:
        """Load the demo and print who may sign in."""
        at = timezone.now()
        try:
            prepare(at=at, say=self.stdout.write)
            passwords = open_demo(at=at)
        except DomainError as refusal:
            raise CommandError(str(refusal)) from refusal
        for name, password in passwords.items():
            self.stdout.write(f"{name} {password}")
        self.stdout.write(f"The passwords are kept in var/{KEPT}.")
