"""What the environment says: each setting is read here, by one name, once.

DEVELOPERS.md has the table of every name.
"""

import os
import secrets
from pathlib import Path
from typing import Any, Final
from urllib.parse import parse_qsl, unquote, urlsplit

from studio.sqlite import journal_mode

BASE: Final = Path(__file__).resolve().parent.parent
VAR: Final = Path(os.environ.get("NORTHSILL_VAR", BASE / "var"))
SERVER: Final = os.environ.get("NORTHSILL_PROFILE", "local") == "server"
MAPPED_BYTES: Final = 256 * 1024 * 1024
"""How much of the file SQLite reads as memory: a search in it takes half the time."""


KEPT_S: Final = 60
"""How long a connection serves: to open one, SQLite reads the names of all tables."""


def text(name: str, default: str = "") -> str:
    """Return a variable's text, or the default where it is unset or empty."""
    return os.environ.get(name, "").strip() or default


def words(name: str) -> list[str]:
    """Return a variable's comma-separated words."""
    return [word.strip() for word in text(name).split(",") if word.strip()]


def secret_key() -> str:
    """Return the secret key; the local profile makes one on its first start."""
    if given := text("SECRET_KEY"):
        return given
    if file := text("SECRET_KEY_FILE"):
        return Path(file).read_text().strip()
    if SERVER:
        raise RuntimeError("Set SECRET_KEY or SECRET_KEY_FILE: the server needs one.")
    return kept_secret("secret_key")


def kept_secret(name: str) -> str:
    """Return a secret kept in var/ with mode 0600, made when it is missing."""
    path = VAR / name
    VAR.mkdir(parents=True, exist_ok=True)
    try:
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text().strip()
    secret = secrets.token_urlsafe(64)
    with os.fdopen(file, "w") as stream:
        stream.write(secret)
    return secret


def database() -> dict[str, Any]:
    """Return Django's database settings from DATABASE_URL; SQLite in var/ without."""
    url = urlsplit(text("DATABASE_URL"))
    if url.scheme in {"postgres", "postgresql"}:
        return {
            "ENGINE": "django.db.backends.postgresql",
            "NAME": unquote(url.path.lstrip("/")),
            "USER": unquote(url.username or ""),
            "PASSWORD": unquote(url.password or ""),
            "HOST": unquote(url.hostname or ""),
            "PORT": str(url.port or ""),
            "CONN_MAX_AGE": KEPT_S,
            "CONN_HEALTH_CHECKS": True,
            "OPTIONS": dict(parse_qsl(url.query)),
        }
    if url.scheme not in {"", "sqlite"}:
        raise RuntimeError("DATABASE_URL starts with sqlite:// or postgresql://")
    path = Path(unquote(url.path)) if url.path else VAR / "northsill.sqlite3"
    path.parent.mkdir(parents=True, exist_ok=True)
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(path),
        "CONN_MAX_AGE": KEPT_S,
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": (
                f"PRAGMA journal_mode={journal_mode()};"
                "PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;"
                f"PRAGMA mmap_size={MAPPED_BYTES};"
            ),
        },
    }
