from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from studio.checks.doctor import Level, examine
from studio.mail.models import Message
from studio.mail.states import MessageState
from studio.profile.models import StudioProfile
from tests.make import NOON, make_job, make_profile
from tests.make_mail import make_message

pytestmark = pytest.mark.django_db
BEFORE = NOON - timedelta(days=1)


@pytest.fixture(autouse=True)
def var(tmp_path: Path, settings: Any) -> Path:
    settings.DATA_DIR = tmp_path
    tmp_path.chmod(0o700)
    return tmp_path


def said(level: Level, at: Any = NOON) -> str:
    return "\n".join(one.sentence for one in examine(at=at) if one.level == level)


def test_a_studio_that_is_well_has_no_fault() -> None:
    make_profile(backed_up_at=BEFORE)

    assert said(Level.FAULT) == ""


def test_the_build_of_the_database_is_named() -> None:
    assert any(name in said(Level.FINE) for name in ("SQLite 3.", "PostgreSQL 1"))


def test_letters_that_nobody_sends_are_a_fault() -> None:
    make_message()

    assert "more than ten minutes: 1" in said(Level.FAULT, NOON + timedelta(hours=1))
    with pytest.raises(CommandError, match="Faults found: 1"):
        call_command("doctor", verbosity=0)


def test_letters_in_doubt_are_a_caution() -> None:
    Message.objects.filter(pk=make_message().pk).update(state=MessageState.UNKNOWN)

    assert "need a decision: 1" in said(Level.CAUTION)


def test_a_clock_behind_the_journal_is_a_fault() -> None:
    make_job()

    assert "check this machine's clock" in said(Level.FAULT, BEFORE)


def test_a_folder_for_copies_that_is_gone_is_a_fault(var: Path) -> None:
    make_profile(backup_dir=str(var / "disk"))

    assert "is not there" in said(Level.FAULT)


def test_an_old_copy_is_a_caution() -> None:
    make_profile(backed_up_at=NOON - timedelta(days=9))

    assert "9 days old" in said(Level.CAUTION)


def test_a_secret_that_others_may_read_is_a_caution(var: Path) -> None:
    (var / "secret_key").write_text("secret")
    (var / "secret_key").chmod(0o644)

    assert "chmod 600" in said(Level.CAUTION)


def test_a_broker_that_is_down_is_a_fault(settings: Any) -> None:
    settings.REDIS_URL = "redis://127.0.0.1:1/0"

    assert "The broker does not answer" in said(Level.FAULT)


def test_a_studio_without_a_public_address_is_told_what_it_lacks() -> None:
    make_profile(public_address="")

    assert "no private links" in said(Level.CAUTION)
    StudioProfile.objects.update(set_up_at=None)
    assert "not set up yet" in said(Level.CAUTION)


def test_time_zones_and_typefaces_are_named() -> None:
    assert "Time zone data are there" in said(Level.FINE)
    assert "Source Sans" in said(Level.FINE)


def test_a_further_typeface_that_is_gone_is_a_fault(var: Path, settings: Any) -> None:
    settings.PDF_FALLBACK_FONTS = [str(var / "gone.ttf")]

    assert "gone.ttf is not there" in said(Level.FAULT)
