"""What pages cost beside a bare view: `uv run python -m tests.bench.pages`.

CPU time of whole requests through all middleware, signed in, on a SQLite file: lists
with 50 rows and blank forms in turn with a view that answers with one fixed line; and a
filled form drawn by our pack in turn with a plain loop over its fields. Goals: a list
takes at most 12 times as long, a blank form of 15 fields 4 times, the filled form 1.75.
What opening the database and knowing who asks cost, a stranger's bare view lacks.
"""

import os
import sys
import tempfile
from importlib import import_module

from tests.bench.numbers import prepare

BARE = "bare view"
LOOP = "plain loop"


def main() -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        prepare()
        visits = import_module("tests.bench.visits")
        pairwise = import_module("tests.bench.pairwise")
        pages, forms = visits.pages(BARE), visits.filled_forms(LOOP)
        for works, base in ((pages, BARE), (forms, LOOP)):
            samples = pairwise.in_turn(works, rounds=9)
            for name in works:
                took = pairwise.milliseconds(samples, name) / visits.TIMES
                beside = pairwise.ratio(samples, name, base)
                sys.stdout.write(f"{name:32} {took:7.2f} ms {beside}\n")


if __name__ == "__main__":
    main()
