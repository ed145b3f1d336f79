"""The database's own refusal to hold one thing for two bookings at once."""

from typing import Final

from studio.guards import Guard, expect

NAME: Final = "jobs_reservation_guard"
TABLE: Final = "jobs_reservation"
CLASH: Final = "held already at that time"

_OVERLAP: Final = (
    f"SELECT RAISE(ABORT, '{CLASH}') WHERE EXISTS ("  # noqa: S608 - constants only
    f"SELECT 1 FROM {TABLE} other WHERE other.resource = NEW.resource "
    "AND other.holds AND other.id <> NEW.id "
    "AND other.starts_at < NEW.ends_at "
    "AND other.starts_at > datetime(NEW.starts_at, '-15 days') "
    "AND other.ends_at > NEW.starts_at);"
)

RESERVATION_GUARD: Final = expect(
    Guard(
        NAME,
        TABLE,
        sqlite=(
            f"CREATE TRIGGER {NAME}_insert AFTER INSERT ON {TABLE} "
            f"WHEN NEW.holds BEGIN {_OVERLAP} END",
            f"CREATE TRIGGER {NAME}_update AFTER UPDATE ON {TABLE} "
            f"WHEN NEW.holds BEGIN {_OVERLAP} END",
        ),
        postgres=(
            "CREATE EXTENSION IF NOT EXISTS btree_gist",
            f"ALTER TABLE {TABLE} ADD CONSTRAINT {NAME} EXCLUDE USING gist "
            "(resource WITH =, tstzrange(starts_at, ends_at, '[)') WITH &&) "
            "WHERE (holds)",
        ),
        postgres_remove=f"ALTER TABLE {TABLE} DROP CONSTRAINT IF EXISTS {NAME}",
    )
)
