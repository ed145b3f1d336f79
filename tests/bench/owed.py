"""How fast what is owed is aged: `uv run python -m tests.bench.owed`.

A book of 250,000 invoices of four lines each (quantity times price), one in fifty of
them open, on a SQLite file, or on PostgreSQL where DATABASE_URL names one. The balances
that are kept are aged in turn with SQL over the lines, of all invoices and of those
that the balances say are open, and with a loop over the decimals of all lines, held in
memory before. Goals: 25 and 350 times as fast, equal to the cent.
"""

import os
import sys
import tempfile
import time
from importlib import import_module

from tests.bench.numbers import prepare


def main(lines: int = 1_000_000) -> None:
    """Print the times and ratios. Raises AssertionError where the sums differ."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        kind = prepare()
        book = import_module("tests.bench.owed_book")
        pairwise = import_module("tests.bench.pairwise")
        book.fill(lines=lines)
        works = {
            "balances by age": book.by_balances,
            "balances by client": book.by_client,
            "SQL over open lines": book.by_open_lines_in_sql,
            "SQL over all lines": book.by_lines_in_sql,
            "decimals of all lines": book.DecimalLoop(),
        }
        assert len({tuple(work()) for work in works.values()}) == 1, works
        # SQLite works within this process, whose own time is the steadier measure.
        clock = time.process_time if kind == "SQLite" else time.perf_counter
        samples = pairwise.in_turn(works, rounds=9, clock=clock)
        sys.stdout.write(f"{kind}, {lines:,} lines\n")
        for name in works:
            took = pairwise.milliseconds(samples, name)
            beside = pairwise.ratio(samples, name, "balances by age")
            sys.stdout.write(f"{name:24} {took:8.1f} ms {beside}\n")


if __name__ == "__main__":
    main()
