"""Taking files in: papers of ours, and scans and pictures that people send."""

import hashlib
from datetime import datetime
from io import BytesIO
from typing import Final

from PIL import Image, UnidentifiedImageError

from studio.errors import DomainError
from studio.files.models import StoredFile

MOST_PIXELS: Final = 80_000_000
MOST_BYTES: Final = 12 * 1_048_576


class UnreadableFileError(DomainError):
    """A file is not what the tool can take in."""


def store_file(
    *, name: str, content_type: str, content: bytes, at: datetime
) -> StoredFile:
    """Keep bytes that this program made, with their SHA-256."""
    return StoredFile.objects.create(
        name=name,
        content_type=content_type,
        size=len(content),
        sha256=hashlib.sha256(content).hexdigest(),
        content=content,
        stored_at=at,
    )


def take_scan(*, name: str, content: bytes, at: datetime) -> StoredFile:
    """Keep a scan that somebody sent: a PDF as it is, a picture made anew.

    A picture is decoded under a cap and written again without its metadata, so
    that no place or camera number travels with it. Raises UnreadableFileError.
    """
    if len(content) > MOST_BYTES:
        raise UnreadableFileError("The file is larger than 12 MB.")
    if content.startswith(b"%PDF-"):
        return store_file(
            name=name, content_type="application/pdf", content=content, at=at
        )
    return store_file(
        name=name, content_type="image/jpeg", content=_clean_picture(content), at=at
    )


def _clean_picture(content: bytes) -> bytes:
    try:
        with Image.open(BytesIO(content), formats=("JPEG", "PNG", "WEBP")) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise UnreadableFileError("The picture has more than 80 megapixels.")
            clean = BytesIO()
            picture.convert("RGB").save(clean, "JPEG", quality=88)
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as fault:
        raise UnreadableFileError(
            "The file could not be read. Send a PDF, JPEG, PNG or WebP."
        ) from fault
    return clean.getvalue()
