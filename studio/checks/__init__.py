"""What must be true of the studio's records, whatever has happened to the machine.

Each app adds its own in its `checks.py`, found when somebody asks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib import import_module
from typing import Final

from django.utils.module_loading import autodiscover_modules

Verifier = Callable[[], Iterable[str]]
_verifiers: Final[dict[str, Verifier]] = {}


@dataclass(frozen=True, slots=True)
class Verdict:
    """What one check looked at, and a sentence for each fault."""

    what: str
    faults: tuple[str, ...]


def verifies(what: str) -> Callable[[Verifier], Verifier]:
    """Register a check of the records; it gives a sentence for each fault."""

    def register(verifier: Verifier) -> Verifier:
        _verifiers[what] = verifier
        return verifier

    return register


def verify() -> list[Verdict]:
    """Run every check of every app, and return what each found."""
    import_module("studio.checks.records")
    autodiscover_modules("checks")
    return [Verdict(what, tuple(verifier())) for what, verifier in _verifiers.items()]
