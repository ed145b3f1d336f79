"""Database guards that no code path can step around, installed by migrations.

Django rebuilds a table on SQLite when a field changes, and drops its triggers
without a word: every later change of a guarded table repeats its guard.
`EXPECTED` lists what a fully migrated database must hold; a test compares.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation
from django.db.migrations.state import ProjectState


@dataclass(frozen=True, slots=True)
class Guard:
    """A trigger's name and what makes it on each database."""

    name: str
    table: str
    sqlite: tuple[str, ...]
    postgres: tuple[str, ...]
    postgres_remove: str = ""

    def install(self, schema_editor: BaseDatabaseSchemaEditor) -> None:
        """Make the guard, after taking an earlier one away."""
        self.remove(schema_editor)
        vendor = schema_editor.connection.vendor
        for statement in self.sqlite if vendor == "sqlite" else self.postgres:
            schema_editor.execute(statement, params=None)

    def remove(self, schema_editor: BaseDatabaseSchemaEditor) -> None:
        """Take the guard away, where it stands."""
        if schema_editor.connection.vendor == "sqlite":
            for event in ("insert", "update", "delete"):
                schema_editor.execute(
                    f"DROP TRIGGER IF EXISTS {self.name}_{event}", params=None
                )
            return
        drop = self.postgres_remove or (
            f"DROP TRIGGER IF EXISTS {self.name} ON {self.table}"
        )
        schema_editor.execute(drop, params=None)


class InstallGuard(Operation):
    """A migration's step that installs one guard."""

    reversible = True
    reduces_to_sql = True

    def __init__(self, guard: Guard) -> None:
        self.guard = guard

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        """Return what writes the operation again."""
        return (self.__class__.__name__, [self.guard], {})

    def state_forwards(self, app_label: str, state: ProjectState) -> None:
        """Change nothing: a guard is no part of Django's model state."""

    def database_forwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Install the guard."""
        self.guard.install(schema_editor)

    def database_backwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Remove the guard."""
        self.guard.remove(schema_editor)

    def describe(self) -> str:
        """Return what the operation does, in words."""
        return f"Guard {self.guard.table} by {self.guard.name}"


class LiftGuard(InstallGuard):
    """A migration's step that takes a guard away until a later step installs it.

    Needed on SQLite before a table is rebuilt that a trigger of another one reads.
    """

    def database_forwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Remove the guard."""
        self.guard.remove(schema_editor)

    def database_backwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        """Install the guard."""
        self.guard.install(schema_editor)

    def describe(self) -> str:
        """Return what the operation does, in words."""
        return f"Lift {self.guard.name} from {self.guard.table}"


def insert_only(table: str, why: str) -> Guard:
    """Return a guard that refuses to change or delete any row of `table`."""
    return frozen(table, columns=(), why=why, deletable=False)


def frozen(
    table: str,
    *,
    columns: Iterable[str],
    why: str,
    deletable: bool = False,
    name: str = "",
) -> Guard:
    """Return a guard that refuses to change `columns` (all, if none are named).

    A table's second guard has a `name` of its own.
    """
    name = name or f"{table}_guard"
    named = tuple(columns)
    of_sqlite = f" OF {', '.join(named)}" if named else ""
    sqlite = [
        f"CREATE TRIGGER {name}_update BEFORE UPDATE{of_sqlite} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{why}'); END"
    ]
    events = f"UPDATE{of_sqlite}"
    if not deletable:
        sqlite.append(
            f"CREATE TRIGGER {name}_delete BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{why}'); END"
        )
        events += " OR DELETE"
    function = (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ "
        f"BEGIN RAISE EXCEPTION '{why}'; END $$ LANGUAGE plpgsql"
    )
    trigger = (
        f"CREATE TRIGGER {name} BEFORE {events} ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {name}()"
    )
    return Guard(name, table, tuple(sqlite), (function, trigger))


def on_insert(
    table: str, *, name: str, steps: Iterable[str], on_postgres: Iterable[str] = ()
) -> Guard:
    """Return a trigger that takes `steps`, in SQL, after each row added to `table`.

    `on_postgres` are the steps there, if they are not the same.
    """
    of_sqlite, of_postgres = tuple(steps), tuple(on_postgres or steps)
    sqlite = (
        f"CREATE TRIGGER {name}_insert AFTER INSERT ON {table} "
        f"BEGIN {'; '.join(of_sqlite)}; END"
    )
    function = (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ "
        f"BEGIN {'; '.join(of_postgres)}; RETURN NULL; END $$ LANGUAGE plpgsql"
    )
    trigger = (
        f"CREATE TRIGGER {name} AFTER INSERT ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {name}()"
    )
    return Guard(name, table, (sqlite,), (function, trigger))


EXPECTED: Final[dict[str, Guard]] = {}


def expect(guard: Guard) -> Guard:
    """Name a guard that a migrated database must hold; tests look for it."""
    EXPECTED[guard.name] = guard
    return guard
