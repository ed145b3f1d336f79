"""Changes one constant of the light core at a time; each must make a test fail.

`uv run python -m tests.mutations.light` tries them all, in a copy of the tree, and
prints which test noticed. A change that nobody notices ends it with exit code 1.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.machine import ROOT

CORE: Final = Path("planning/light")
TESTS: Final = Path("tests/planning/light")
QUIETLY: Final = ("-x", "-q", "-p", "no:cacheprovider")
COPIED: Final = ("studio", "jobs", "planning", "invoicing", "tests", "templates")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutation:
    """One constant: where it stands, what it becomes, and which tests watch it."""

    what: str
    file: str
    before: str
    after: str
    tests: str

    @property
    def path(self) -> Path:
        """The file, from the top of the tree."""
        return CORE / self.file

    def applied(self, text: str) -> str:
        """Return a file's text with the constant changed; it must stand there once."""
        if text.count(self.before) != 1:
            raise ValueError(f"{self.before!r} stands not once in {self.path}")
        return text.replace(self.before, self.after)


def _of(what: str, file: str, before: str, after: str, tests: str) -> Mutation:
    return Mutation(what=what, file=file, before=before, after=after, tests=tests)


MUTATIONS: Final = (
    _of("sun's parallax", "sun.py", "8.794 / 3600", "87.94 / 3600", "test_sun.py"),
    _of("sidereal day", "nodes.py", "1.002_737_909_35", "1.01", "test_sun.py"),
    _of("ephem's epoch", "nodes.py", "25_567.5", "25_567.6", "test_sun.py"),
    _of("ΔT of 2000", "nodes.py", "63.83)", "73.83)", "test_moon.py"),
    _of("refraction", "air.py", "1.02 / 60.0", "1.05 / 60.0", "test_air.py"),
    _of("air mass", "air.py", "0.50572", "0.52", "test_air.py"),
    _of("sunset", "air.py", "= -0.8333", "= -0.85", "test_almanac.py"),
    _of("civil twilight", "almanac.py", "-6.0, SUN", "-6.1, SUN", "test_almanac*.py"),
    _of(
        "moon's refraction", "moonrise.py", "34.0 / 60", "30.0 / 60", "test_almanac*.py"
    ),
    _of(
        "moon's radius", "moonrise.py", "1737.4 / 6378", "1837.4 / 6378", "test_alm*.py"
    ),
    _of("Earth's flattening", "moon.py", "298.257", "250.257", "test_moon.py"),
    _of("light of the sun", "daylight.py", "127_500.0", "131_000.0", "test_illum*.py"),
    _of("Earth's ellipse", "daylight.py", "0.034 * np", "0.044 * np", "test_illum*.py"),
    _of("clear beam", "skies.py", "extinction=0.21", "extinction=0.22", "test_il*.py"),
    _of("clear sky's rise", "skies.py", "15_500.0", "16_000.0", "test_illum*.py"),
    _of("a wall's clear sky", "skies.py", "12_000.0 * sun.sine", "12_600.0 * sun.sine",
        "test_illum*.py"),
    _of("clear shade", "skies.py", "8_200.0", "8_600.0", "test_illum*.py"),
    _of("dark overcast", "skies.py", "HEAVY_STOPS = 1.7", "HEAVY_STOPS = 1.6",
        "test_illum*.py"),
    _of("low sun", "twilight.py", "1034.30", "1034.00", "test_low_sun.py"),
    _of("twilight at -3°", "twilight.py", "-258.11", "-258.00", "test_low_sun.py"),
    _of("full moon", "twilight.py", "-1.95, 4.06", "-1.90, 4.06", "test_moon_light.py"),
    _of("night floor", "twilight.py", "LUX = 0.0005", "LUX = 0.0006", "test_*l*.py"),
    _of("clear by day ±⅓", "tolerance.py", "1.0 / 3.0", "0.4", "test_illum*.py"),
    _of("incident C", "exposure.py", "ION = 250.0", "ION = 255.0", "test_exposure.py"),
    _of("reflected K", "exposure.py", "ION = 12.5", "ION = 12.9", "test_exposure.py"),
    _of("a third stop", "scales.py", "steps_per_doubling=2 * per_stop",
        "steps_per_doubling=3 * per_stop", "test_scales.py"),
    _of("circle of confusion", "optics.py", "= 1500.0", "= 1530.0", "test_optics.py"),
    _of("Airy disc", "optics.py", "FACTOR = 2.44", "FACTOR = 2.50", "test_optics.py"),
    _of("blur that passes", "motion.py", "BLUR_MM = 0.06 ", "BLUR_MM = 0.07 ",
        "test_motion.py"),
    _of("a walk", "motion.py", "WALKING: 1.4", "WALKING: 1.5", "test_motion.py"),
    _of("inverse square", "flash.py", "-2.0 * log2", "-1.9 * log2", "test_flash.py"),
    _of("a foot", "flash.py", "0.3048", "0.3148", "test_flash.py"),
    _of("board factor", "fill.py", "2.0 * np.pi), 0.0", "2.1 * np.pi), 0.0",
        "test_fill.py"),
    _of("CIE overcast", "window.py", "7.0 / 9.0", "7.0 / 8.8", "test_window.py"),
    _of("filter density", "colour.py", "log2(10.0)", "log2(10.3)", "test_colour.py"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What became of one change: the first test that failed, or nobody."""

    mutation: Mutation
    noticed_by: str

    def __str__(self) -> str:
        one = self.mutation
        change = f"{one.before.strip()} → {one.after.strip()}"
        by = self.noticed_by or "NOBODY"
        return f"{one.file:<14}{one.what:<22}{change:<70} {by}"


def trial(tree: Path, mutation: Mutation) -> Verdict:
    """Change the constant in a copy of the tree, run its tests, change it back."""
    path = tree / mutation.path
    text = path.read_text()
    path.write_text(mutation.applied(text))
    files = sorted(str(one.relative_to(tree)) for one in _watching(tree, mutation))
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "pytest", *QUIETLY, *files],
            cwd=tree,
            capture_output=True,
            text=True,
            check=False,
        )
    finally:
        path.write_text(text)
    failed = re.search(r"^(?:FAILED|ERROR) \S*?/(test_\S+)", ran.stdout, re.MULTILINE)
    if ran.returncode != 0 and failed is None:
        raise RuntimeError(ran.stdout + ran.stderr)
    return Verdict(mutation=mutation, noticed_by=failed[1] if failed else "")


def _watching(tree: Path, mutation: Mutation) -> Sequence[Path]:
    return list((tree / TESTS).glob(mutation.tests))


def copied_tree(into: Path) -> Path:
    """Copy what the tests of the light need, so that the real tree stays as it is."""
    for name in COPIED:
        shutil.copytree(
            ROOT / name, into / name, ignore=shutil.ignore_patterns("__pycache__")
        )
    shutil.copy(ROOT / "pyproject.toml", into)
    return into


def main() -> int:
    """Try every change and print its verdict; 1 if one went unnoticed."""
    with tempfile.TemporaryDirectory() as folder:
        tree = copied_tree(Path(folder))
        verdicts = []
        for mutation in MUTATIONS:
            verdicts.append(trial(tree, mutation))
            print(verdicts[-1], flush=True)
    unnoticed = [one for one in verdicts if not one.noticed_by]
    print(f"{len(verdicts)} tried, {len(unnoticed)} unnoticed")
    return 1 if unnoticed else 0


if __name__ == "__main__":
    sys.exit(main())
