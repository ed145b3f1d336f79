import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from studio.checks import deploy
from tests.machine import Machine

SERVER = {
    "DJANGO_SETTINGS_MODULE": "studio.settings",
    "NORTHSILL_PROFILE": "server",
    "SECRET_KEY": "Jc7d-3fhs_92kdLwq0ZxPmvbtYgE6rUa1oNi8XhSVeWQFTCyRKMBGl45",
    "ALLOWED_HOSTS": "studio.example",
    "CSRF_TRUSTED_ORIGINS": "https://studio.example",
}


def test_the_deploy_check_is_silent_with_the_servers_settings(tmp_path: Path) -> None:
    server = Machine(tmp_path / "var", **SERVER)

    done = server.manage("check", "--deploy", "--fail-level", "WARNING")

    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == ("System check identified no issues (0 silenced).")


def test_a_server_without_a_secret_does_not_start(tmp_path: Path) -> None:
    server = Machine(tmp_path / "var", **{**SERVER, "SECRET_KEY": ""})

    done = server.manage("check")

    assert done.returncode != 0
    assert "Set SECRET_KEY" in done.stderr


@pytest.mark.parametrize(
    ("name", "value", "number"),
    [
        ("CACHES", {"default": {"BACKEND": "x.LocMemCache"}}, "005"),
        ("EMAIL_TIMEOUT", None, "006"),
        ("CELERY_ACCEPT_CONTENT", ["pickle"], "007"),
        ("FAULTPOINTS", {"before_commit"}, "008"),
    ],
)
def test_shared_state_is_checked(
    name: str, value: object, number: str, settings: Any
) -> None:
    setattr(settings, name, value)

    assert [one.id for one in deploy.shared_state_is_shared()] == [
        f"northsill.W{number}"
    ]


def test_sqlite_that_may_lose_work_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    hasty = {
        "ENGINE": "django.db.backends.sqlite3",
        "OPTIONS": {"init_command": "PRAGMA synchronous=NORMAL"},
    }
    settings = SimpleNamespace(DATABASES={"default": hasty})
    monkeypatch.setattr(deploy, "settings", settings)

    found = {one.id for one in deploy.database_is_safe()}

    assert {"northsill.W002", "northsill.W003", "northsill.W004"} <= found


def test_files_under_the_static_folder_are_found(settings: Any) -> None:
    settings.SECOND_FACTOR_REQUIRED = True
    settings.MEDIA_ROOT = Path(settings.STATIC_ROOT) / "media"

    assert [one.id for one in deploy.doors_are_shut()] == ["northsill.W011"]


def test_a_pdf_library_that_fetches_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("reportlab.rl_config.trustedHosts", ["*"])

    assert [one.id for one in deploy.paper_is_safe()] == ["northsill.W013"]


def test_every_check_has_a_number_of_its_own() -> None:
    source = Path(deploy.__file__).read_text()
    numbers = re.findall(r'yield "(\d{3})"', source)

    assert len(numbers) == len(set(numbers))
