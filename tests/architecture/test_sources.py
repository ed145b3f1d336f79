"""What no source file may hold, and who may hold it after all."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
APPS = ("studio", "jobs", "planning", "invoicing")

# pattern -> the files that may hold it, each for a reason that stands beside it there
GATES: dict[str, set[str]] = {
    r"\bmark_safe\b": {"studio/panels.py"},
    r"import .*\bParagraph\b|platypus\.Paragraph": {"studio/pdf/text.py"},
    r"shell\s*=\s*True": set(),
    r"\bRawSQL\b|\.extra\(": set(),
    r"\bcsrf_exempt\b": set(),
    r"\b(?:pickle|marshal|shelve)\b": set(),
    r"(?<![\w.])(?:eval|exec)\(": set(),
    r"fields\s*=\s*[\"']__all__[\"']": set(),
    r"\bpost_save\b|\bpre_save\b|\breceiver\(": set(),
    r"trustedHosts|trustedSchemes|rl_safe_eval": {"studio/checks/deploy.py"},
    r"@mark\.skip|pytest\.skip|xfail\(|importorskip": set(),
}


def python_files() -> Iterator[Path]:
    for app in APPS:
        yield from (ROOT / app).rglob("*.py")


def template_files() -> list[Path]:
    return sorted((ROOT / "templates").rglob("*.html"))


@pytest.mark.parametrize("pattern", GATES)
def test_what_is_dangerous_stands_only_where_it_must(pattern: str) -> None:
    found = {
        str(path.relative_to(ROOT))
        for path in python_files()
        if re.search(pattern, path.read_text())
    }

    assert found - GATES[pattern] == set()


@pytest.mark.parametrize(
    "pattern",
    [
        r"\|\s*safe\b",
        r"\bautoescape off\b",
        r"<script(?![^>]*\bsrc=)",
        r"<style\b",
        r"\sstyle\s*=",
        r"\son[a-z]+\s*=\s*[\"']",
        r"\bhx-on\b|hx-vals=[\"']js:",
        r"javascript:",
    ],
)
def test_no_template_holds_what_the_content_policy_refuses(pattern: str) -> None:
    found = [
        str(path.relative_to(ROOT))
        for path in template_files()
        if re.search(pattern, path.read_text(), re.IGNORECASE)
    ]

    assert found == []


def test_no_test_is_left_out() -> None:
    words = ("pytest." + "skip", "mark." + "skip", "x" + "fail(", "import" + "orskip")

    found = [
        str(path.relative_to(ROOT))
        for path in (ROOT / "tests").rglob("*.py")
        if path != Path(__file__) and any(word in path.read_text() for word in words)
    ]

    assert found == []


def test_no_source_file_is_too_long() -> None:
    long = {
        str(path.relative_to(ROOT)): lines
        for path in python_files()
        if (lines := len(path.read_text().splitlines())) > 400
        and "migrations" not in path.parts
    }

    assert long == {}
