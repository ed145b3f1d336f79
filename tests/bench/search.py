"""How fast the one search box is: `uv run python -m tests.bench.search`.

A book of 100,000 jobs of 40,000 clients, with 60,000 quotes and 60,000 invoices, on a
SQLite file, or on PostgreSQL where DATABASE_URL names one. Each kind of words is looked
for as the page does, in turn with one pass over the jobs' titles (a LIKE that nothing
fits), which is the floor of a search that reads rows. Goal: under 100 ms.
"""

import os
import sys
import tempfile
import time
from importlib import import_module

from tests.bench.numbers import prepare


def main() -> None:
    """Print the times and ratios."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        kind = prepare()
        finding = import_module("tests.bench.finding")
        pairwise = import_module("tests.bench.pairwise")
        owner = finding.fill(jobs=100_000)
        works = {"one pass": finding.one_pass} | finding.searches(owner)
        samples = pairwise.in_turn(works, rounds=7, clock=time.perf_counter)
        sys.stdout.write(f"{kind}, 100,000 jobs\n")
        for name in works:
            took = pairwise.milliseconds(samples, name)
            beside = pairwise.ratio(samples, name, "one pass")
            sys.stdout.write(f"{name:24} {took:8.1f} ms {beside}\n")


if __name__ == "__main__":
    main()
