import io
import zipfile
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client as Browser

from studio.backups import operations
from studio.panels import today_items
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person, make_profile
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def dump(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(operations, "dump", lambda path: path.write_bytes(b"rows"))


@pytest.fixture
def owner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person())
    return client


def test_back_up_now_gives_the_browser_a_whole_copy(owner: Browser) -> None:
    answer = owner.post("/backup/now/")

    content = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        assert "manifest.json" in archive.namelist()
    assert answer["Content-Disposition"].startswith('attachment; filename="northsill-')
    assert answer["Cache-Control"] == "no-store"
    assert StudioProfile.load().backed_up_at is not None


def test_the_page_warns_that_a_copy_is_not_encrypted(owner: Browser) -> None:
    page = Markup(owner.get("/backup/").content.decode())

    assert "holds personal data and is not encrypted" in page.words
    assert page.forbidden() == []


def test_a_fault_is_told_on_the_page(
    owner: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: Path) -> None:
        raise OSError("no space left on the disk")

    monkeypatch.setattr(operations, "dump", full)

    page = owner.post("/backup/now/", follow=True).content.decode()

    assert "no space left on the disk" in page


def test_the_owner_chooses_a_folder(owner: Browser, tmp_path: Path) -> None:
    refused = owner.post("/backup/", {"folder": "/no/such/folder"})
    assert "There is no such folder" in refused.content.decode()

    owner.post("/backup/", {"folder": str(tmp_path)})

    assert StudioProfile.load().backup_dir == str(tmp_path)


def test_today_asks_for_a_copy_when_there_is_none_for_days() -> None:
    make_profile(set_up_at=NOON)
    ada = make_person()

    def titles(days: int) -> list[str]:
        at = NOON + timedelta(days=days)
        return [item.title for item in today_items(ada, at, ada.hats)]

    said = "Make a copy of the studio’s data"
    assert said not in titles(1)
    assert said in titles(4)
    StudioProfile.objects.update(backed_up_at=NOON + timedelta(days=3))
    assert said not in titles(4)
