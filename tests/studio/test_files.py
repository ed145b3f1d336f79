import hashlib
from io import BytesIO

import pytest
from django.db import DatabaseError, transaction
from PIL import Image

from studio.files.models import StoredFile
from studio.files.operations import (
    MOST_BYTES,
    UnreadableFileError,
    store_file,
    take_scan,
)
from tests.make import NOON

pytestmark = pytest.mark.django_db


def picture(kind: str = "JPEG", size: tuple[int, int] = (40, 30)) -> bytes:
    exif = Image.Exif()
    exif[0x010F] = "Maker of a camera"
    exif.get_ifd(0x8825)[1] = "N"
    out = BytesIO()
    Image.new("RGB", size, "grey").save(out, kind, exif=exif)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_is_made_anew_without_what_it_tells_of_camera_and_place(
    kind: str,
) -> None:
    kept = take_scan(name="yes", content=picture(kind), at=NOON)

    with Image.open(BytesIO(bytes(kept.content))) as again:
        assert (again.format, again.size) == ("JPEG", (40, 30))
        assert dict(again.getexif()) == {}
    assert b"Maker of a camera" not in bytes(kept.content)
    assert kept.content_type == "image/jpeg"


def test_a_pdf_is_kept_byte_for_byte_with_its_hash() -> None:
    content = b"%PDF-1.7\nsigned"

    kept = take_scan(name="yes", content=content, at=NOON)

    assert bytes(kept.content) == content
    assert kept.sha256 == hashlib.sha256(content).hexdigest()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"plain words",
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>",
        picture()[:200],
        b"GIF89a" + b"\x00" * 40,
    ],
)
def test_what_is_neither_picture_nor_pdf_is_refused(content: bytes) -> None:
    with pytest.raises(UnreadableFileError, match="could not be read"):
        take_scan(name="yes", content=content, at=NOON)

    assert not StoredFile.objects.exists()


def test_a_picture_too_large_to_be_meant_is_refused_before_it_is_decoded() -> None:
    out = BytesIO()
    Image.new("1", (9_000, 9_000)).save(out, "PNG")

    with pytest.raises(UnreadableFileError, match="80 megapixels"):
        take_scan(name="yes", content=out.getvalue(), at=NOON)


def test_a_file_over_the_cap_is_refused() -> None:
    with pytest.raises(UnreadableFileError, match="12 MB"):
        take_scan(name="yes", content=b"%PDF-" + b"x" * MOST_BYTES, at=NOON)


def test_the_database_refuses_to_rewrite_a_stored_file() -> None:
    kept = store_file(name="a.pdf", content_type="x/y", content=b"one", at=NOON)

    with pytest.raises(DatabaseError, match="never rewritten"), transaction.atomic():
        StoredFile.objects.filter(pk=kept.pk).update(content=b"two")
