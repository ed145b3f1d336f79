"""Who may import whom, and that the map names every folder."""

import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
APPS = ("studio", "jobs", "planning", "invoicing")
ROLES = (
    *("urls", "views", "tasks", "panels", "admin", "forms", "operations"),
    *("documents", "queries", "models", "states"),
)
# Packages whose file names are no roles: parts of one thing, or Django's own.
NO_AGGREGATES = {"studio.forms", "studio.pdf", "studio.scene", "studio.management"}


def aggregates() -> set[str]:
    return {
        f"{app}.{folder.name}"
        for app in APPS
        for folder in (ROOT / app).iterdir()
        if any((folder / f"{role}.py").exists() for role in ROLES)
    } - NO_AGGREGATES


def test_the_contracts_hold() -> None:
    # In a process of its own: the linter switches off every logger it finds.
    code = (
        "import sys; from importlinter.cli import lint_imports; "
        "sys.exit(lint_imports(no_cache=True))"
    )

    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stdout + done.stderr


def test_the_contract_on_roles_names_every_aggregate() -> None:
    config = tomllib.loads((ROOT / "pyproject.toml").read_text())
    contracts = config["tool"]["importlinter"]["contracts"]
    (roles,) = [one for one in contracts if one["id"] == "roles"]

    assert aggregates() - set(roles["containers"]) == set()


def test_the_developers_page_names_every_folder() -> None:
    page = ROOT / "DEVELOPERS.md"
    written = page.read_text() if page.exists() else None
    folders = {
        folder.name
        for app in APPS
        for folder in (ROOT / app).iterdir()
        if (folder / "__init__.py").exists() and folder.name != "migrations"
    }

    missing = [name for name in sorted(folders) if written and name not in written]
    assert missing == []


def test_nothing_else_stands_at_the_top() -> None:
    allowed = {*APPS, "templates", "tests", "var", "uv.lock"}
    allowed |= {"README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml"}

    found = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}

    assert found - allowed - {"__pycache__"} == set()
