"""`manage.py start`: everything on this machine, by one command."""

import signal
import sys
from argparse import ArgumentParser
from collections.abc import Mapping
from contextlib import closing
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from studio.environment import SERVER
from studio.errors import DomainError
from studio.profile.demo import point_demo_at
from studio.profile.models import StudioProfile
from studio.start.people import OWNER, first_owner, kept_passwords, open_demo
from studio.start.prepare import prepare
from studio.start.web import HERE, answer_on_lan, make_server, open_socket
from studio.work.child import Child


class Command(BaseCommand):
    """Prepare the database, serve the pages, do the background work."""

    help = "Start the studio on this machine: database, pages, background work."
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the port, and whether the demo or the network is wanted."""
        parser.add_argument(
            "--demo", action="store_true", help="open the invented studio"
        )
        parser.add_argument("--port", type=int, default=8000, help="8000 by default")
        parser.add_argument(
            "--lan",
            action="store_true",
            help="answer other machines on the studio's own network too",
        )

    def handle(
        self, *_: Any, demo: bool, port: int, lan: bool, **_options: Any
    ) -> None:
        """Start everything, and stop everything on Ctrl-C or SIGTERM."""
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
        signal.signal(signal.SIGINT, signal.default_int_handler)
        try:
            with closing(open_socket(port=port, lan=lan)) as taken:
                prepare(at=timezone.now(), say=self._say)
                self._say_who(demo=demo)
                self._serve(taken, lan=lan)
        except DomainError as refusal:
            raise CommandError(str(refusal)) from refusal
        except KeyboardInterrupt:
            self._say("Stopped.")

    def _serve(self, taken: Any, *, lan: bool) -> None:
        server, child = make_server(taken), Child()
        child.start()
        try:
            self._say_where(taken.getsockname()[1], lan=lan)
            server.run()
        finally:
            server.close()
            child.stop()
        self._say("Stopped.")

    def _say_who(self, *, demo: bool) -> None:
        if demo:
            self._say_passwords(open_demo(at=timezone.now()))
        elif StudioProfile.load().is_demo:
            self._say_passwords(kept_passwords())
        elif password := first_owner():
            self._say(
                "An empty studio. Sign in once with this password, then change it; "
                "it is not shown again."
            )
            self._say(f"  {OWNER}  {password}")

    def _say_passwords(self, passwords: Mapping[str, str]) -> None:
        if not passwords:
            self._say(
                "The demo's passwords are no longer in var/. Set a new one: "
                "uv run manage.py changepassword NAME"
            )
            return
        self._say("The demo: an invented studio. Sign in as")
        width = max(map(len, passwords))
        for name, password in passwords.items():
            self._say(f"  {name:<{width}}  {password}")

    def _say_where(self, port: int, *, lan: bool) -> None:
        if SERVER:
            self._say(f"Northsill listens for its proxy on {HERE}:{port}.")
            return
        point_demo_at(f"http://{HERE}:{port}")
        self._say(f"Northsill runs at http://{HERE}:{port}/")
        if lan:
            address = f"http://{answer_on_lan()}:{port}"
            point_demo_at(address)
            self._say(f"and on this network at {address}/")
            self._say(
                "Whoever is on this network reaches the sign-in page, and the way "
                "there is not encrypted: use it at home or in the studio only."
            )
        self._say("Ctrl-C stops it.")

    def _say(self, words: str) -> None:
        self.stdout.write(words)
        self.stdout.flush()
