"""How the diary grows: `uv run python -m tests.bench.clash`.

Three books, of 1,000, 100,000 and 1,000,000 reservations, on SQLite files, or on
PostgreSQL where DATABASE_URL names one. A studio of four teams, each with two sessions
a day, so that years grow and days do not. Goals: a session written down and held in the
largest book takes at most 2 times as long as in the smallest on SQLite, 1.3 times on
PostgreSQL; a month is read in the largest at most 1.1 times as long as in the middle.
"""

import os
import sys
import tempfile
import time
from functools import partial
from importlib import import_module
from itertools import product

from tests.bench.numbers import prepare

SMALL, MIDDLE, LARGE = 1_000, 100_000, 1_000_000


def main() -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        kind = prepare()
        # SQLite works in this process; PostgreSQL in another, which CPU time misses.
        clock = time.process_time if kind == "SQLite" else time.perf_counter
        diaries = import_module("tests.bench.diaries")
        pairwise = import_module("tests.bench.pairwise")
        with diaries.books(folder, (SMALL, MIDDLE, LARGE)) as books:
            named = product(diaries.WORKS, books)
            works = {
                f"{name}, {size:,}": partial(books[size].run, diaries.WORKS[name])
                for name, size in named
            }
            samples = pairwise.in_turn(works, rounds=9, clock=clock)
        sys.stdout.write(f"{kind}\n")
        for name, size in product(diaries.WORKS, (SMALL, MIDDLE, LARGE)):
            base = MIDDLE if name in diaries.OF_A_MONTH else SMALL
            took = pairwise.milliseconds(samples, f"{name}, {size:,}")
            beside = pairwise.ratio(samples, f"{name}, {size:,}", f"{name}, {base:,}")
            sys.stdout.write(f"{name:28} {size:9,} {took:8.1f} ms {beside}\n")


if __name__ == "__main__":
    main()
