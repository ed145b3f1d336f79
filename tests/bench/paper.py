"""How fast paper is printed, as ratios: `uv run python -m tests.bench.paper`.

Two hundred invoices of one to twelve lines, with the same words, lines and typefaces as
reportlab's own means set them. Goals: at least 4 times as fast in one PDF, printed and
bound as the list of invoices does, and 2.2 times as separate files; no word is kept
from one batch to the next. Binding what was kept before has no goal. A call sheet with
its charts takes at most 1.3 times as long as all that is on it, drawn at fixed places
on a bare canvas with the same typefaces; what it takes where no word was met before, as
in a new process, is measured beside it.
"""

import os
import sys
import tempfile
from importlib import import_module

from tests.bench.numbers import prepare
from tests.bench.pairwise import Samples, in_turn, milliseconds, ratio


def report(title: str, samples: Samples, pairs: list[tuple[str, str, str]]) -> None:
    """Print one table: medians first, then the ratios with their goals."""
    sys.stdout.write(f"\n{title}\n")
    for name in samples:
        sys.stdout.write(f"  {name:<28}{milliseconds(samples, name):10.2f} ms of CPU\n")
    for slow, quick, goal in pairs:
        found = ratio(samples, slow, quick)
        sys.stdout.write(f"  {slow} / {quick}: {found}  goal {goal}\n")


def main() -> None:
    """Run the tables."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        prepare()
        report(
            "200 invoices",
            in_turn(import_module("tests.bench.printing").works(200), rounds=5),
            [
                ("one PDF, plainly", "one PDF", ">= 4"),
                ("one PDF, plainly", "one PDF of kept papers", "none set"),
                ("files, plainly", "files", ">= 2.2"),
            ],
        )
        report(
            "A call sheet with its charts",
            in_turn(import_module("tests.bench.call_sheet").works(), rounds=81),
            [
                ("a call sheet", "drawn at fixed places", "<= 1.3"),
                ("a call sheet, nothing kept", "drawn at fixed places", "none set"),
            ],
        )


if __name__ == "__main__":
    main()
