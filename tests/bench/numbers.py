"""How fast invoices are issued at once: `uv run python -m tests.bench.numbers`.

Compares the whole issue transaction (draft, number, snapshot, chains, journal) with the
same work under numbers that leave gaps, in turn, one attempt in twenty taken back.
Goals on PostgreSQL, named by DATABASE_URL: at least 0.6 of its pace with 8
threads, 0.35 with 32. Without a name: 8 threads on a SQLite file.
"""

import os
import sys
import tempfile
from importlib import import_module

from studio.sqlite import use_newer_sqlite


def prepare() -> str:
    """Set up an empty database that is thrown away; return its kind."""
    use_newer_sqlite()
    import_module("django").setup()
    connection = import_module("django.db").connection
    if connection.vendor == "sqlite":
        import_module("django.core.management").call_command("migrate", verbosity=0)
        return "SQLite"
    connection.creation.create_test_db(verbosity=0, autoclobber=True)
    with connection.cursor() as cursor:
        cursor.execute("CREATE SEQUENCE bench_numbers")
    return "PostgreSQL"


def main() -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory(prefix="northsill-bench-") as folder:
        os.environ["NORTHSILL_VAR"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
        kind = prepare()
        compare = import_module("tests.bench.issuing").compare
        for threads in (8, 32) if kind == "PostgreSQL" else (8,):
            ratio, pace = compare(threads=threads, rounds=3, each=160)
            sys.stdout.write(
                f"{kind}, {threads:2} threads: {ratio:.2f} of the pace with gaps, "
                f"{pace:.0f} papers a second\n"
            )


if __name__ == "__main__":
    main()
