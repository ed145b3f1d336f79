"""Checks of ours for `check --deploy`: what a server must not be run with."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import font_source_sans_pro
from django.conf import settings
from django.core.checks import CheckMessage, Tags, register
from django.core.checks import Warning as Caution

from studio.sqlite import SAFE_FOR_WAL, build, journal_mode

LONGEST_MAIL_WAIT_S: Final = 30
Found = Iterator[tuple[str, str]]


def _deploy(check: Callable[[], Found]) -> Callable[..., list[CheckMessage]]:
    """Register a check that yields a number and a sentence for each fault."""

    def run(**_later: Any) -> list[CheckMessage]:
        return [
            Caution(sentence, id=f"northsill.W{number}") for number, sentence in check()
        ]

    run.__name__ = check.__name__
    return register(Tags.security, deploy=True)(run)


@_deploy
def database_is_safe() -> Found:
    """Yield faults of SQLite's build and of how it writes."""
    database = settings.DATABASES["default"]
    if not database["ENGINE"].endswith("sqlite3"):
        return
    said = database["OPTIONS"].get("init_command", "")
    if build() < SAFE_FOR_WAL and "journal_mode=WAL" in said:
        yield (
            "001",
            f"SQLite {build()} may damage a WAL database. Use {journal_mode()}.",
        )
    if "synchronous=FULL" not in said:
        yield "002", "SQLite can lose acknowledged work: set synchronous=FULL."
    if "foreign_keys=ON" not in said:
        yield "003", "SQLite does not enforce foreign keys here."
    if database["OPTIONS"].get("transaction_mode") != "IMMEDIATE":
        yield "004", "Writers of SQLite collide: set transaction_mode IMMEDIATE."


@_deploy
def shared_state_is_shared() -> Found:
    """Yield faults of what every process must see alike."""
    if "locmem" in settings.CACHES["default"]["BACKEND"].lower():
        yield "005", "The cache is one for each process, so rate limits do not hold."
    if not settings.EMAIL_TIMEOUT or settings.EMAIL_TIMEOUT > LONGEST_MAIL_WAIT_S:
        yield "006", "A mail server that hangs would hang the worker: EMAIL_TIMEOUT."
    if settings.CELERY_ACCEPT_CONTENT != ["json"]:
        yield "007", "Workers must take JSON only."
    if settings.FAULTPOINTS:
        yield "008", "FAULTPOINTS are for tests only."


@_deploy
def doors_are_shut() -> Found:
    """Yield faults of what could be reached from outside."""
    if "django.contrib.admin" in settings.INSTALLED_APPS:
        yield "009", "The admin's own sign-in steps around the second factor."
    if not settings.SECOND_FACTOR_REQUIRED:
        yield "010", "A server asks everybody for a second factor."
    media, static = Path(settings.MEDIA_ROOT), Path(settings.STATIC_ROOT)
    if media == static or static in media.parents or media in static.parents:
        yield "011", "Files of people lie where static files are served from."
    if settings.CONTENT_SECURITY_POLICY["DIRECTIVES"]["default-src"] != ["'none'"]:
        yield "012", "The content policy must begin with default-src 'none'."


@_deploy
def paper_is_safe() -> Found:
    """Yield faults of what prints: no fetching, no stripped checks, our own fonts."""
    if import_module("reportlab.rl_config").trustedHosts:
        yield "013", "The PDF library may fetch pictures from other hosts."
    if sys.flags.optimize:
        yield "014", "Python runs with -O, which leaves checks of libraries out."
    if not list(Path(font_source_sans_pro.font_directory).glob("*-Regular.ttf")):
        yield "015", "The font of papers is missing: none can be printed."
