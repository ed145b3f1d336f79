"""Letters as files: where no mail server is set, each goes into var/mail/."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from email.utils import parsedate_to_datetime
from pathlib import Path

from django.conf import settings
from django.core.mail import EmailMessage
from django.core.mail.backends.base import BaseEmailBackend


class FolderBackend(BaseEmailBackend):
    """Writes one .eml file a letter, which any mail program opens.

    The name is made from the letter's Date and Message-ID, so that a letter that is
    written twice is there once.
    """

    def send_messages(self, email_messages: Sequence[EmailMessage]) -> int:
        """Write each letter, whole or not at all, readable by its owner only."""
        folder = Path(settings.EMAIL_FILE_PATH)
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        for email in email_messages:
            _write(folder, email)
        return len(email_messages)


def _write(folder: Path, email: EmailMessage) -> None:
    letter = email.message()
    written = parsedate_to_datetime(str(letter["Date"]))
    slug = re.sub(r"[^A-Za-z0-9.-]+", "-", str(letter["Message-ID"])).strip("-.")[:80]
    path = folder / f"{written:%Y-%m-%d-%H%M%S}-{slug}.eml"
    half = path.with_suffix(f".{os.getpid()}.half")
    handle = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as out:
        out.write(letter.as_bytes())
        out.flush()
        os.fsync(out.fileno())
    half.replace(path)
