"""Passwords made for people who will change them."""

import secrets
from typing import Final

LETTERS: Final = "abcdefghjkmnpqrstuvwxyz23456789"


def readable_password() -> str:
    """Return a random password of four groups, easy to copy by hand (79 bits)."""
    groups = ["".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(4)]
    return "-".join(groups)
