"""Database guards of quotes: what was sent and what was agreed is never rewritten."""

from typing import Final

from studio.guards import Guard, expect, frozen

_SENT: Final = "a sent quote is never rewritten"
_FROZEN: Final = (
    "number",
    "version",
    "sent_at",
    "snapshot",
    "snapshot_hash",
    "valid_until_on",
    "paper_id",
)
_CHANGED: Final = " OR ".join(f"NEW.{name} IS NOT OLD.{name}" for name in _FROZEN)
_NEW: Final = ", ".join(f"NEW.{name}" for name in _FROZEN)
_OLD: Final = ", ".join(f"OLD.{name}" for name in _FROZEN)

QUOTE_GUARD: Final = expect(
    Guard(
        name="invoicing_quote_guard",
        table="invoicing_quote",
        sqlite=(
            "CREATE TRIGGER invoicing_quote_guard_update BEFORE UPDATE "
            f"ON invoicing_quote WHEN OLD.sent_at IS NOT NULL AND ({_CHANGED}) "
            f"BEGIN SELECT RAISE(ABORT, '{_SENT}'); END",
            "CREATE TRIGGER invoicing_quote_guard_delete BEFORE DELETE "
            "ON invoicing_quote WHEN OLD.sent_at IS NOT NULL "
            f"BEGIN SELECT RAISE(ABORT, '{_SENT}'); END",
        ),
        postgres=(
            "CREATE OR REPLACE FUNCTION invoicing_quote_guard() RETURNS trigger AS $$ "
            "BEGIN IF OLD.sent_at IS NULL THEN "
            "IF TG_OP = 'DELETE' THEN RETURN OLD; END IF; RETURN NEW; END IF; "
            f"IF TG_OP = 'UPDATE' AND ({_NEW}) IS NOT DISTINCT FROM ({_OLD}) "
            f"THEN RETURN NEW; END IF; RAISE EXCEPTION '{_SENT}'; END "
            "$$ LANGUAGE plpgsql",
            "CREATE TRIGGER invoicing_quote_guard BEFORE UPDATE OR DELETE "
            "ON invoicing_quote FOR EACH ROW EXECUTE FUNCTION invoicing_quote_guard()",
        ),
    )
)


def _lines_sqlite(event: str, row: str) -> str:
    return (  # made of constants only
        f"CREATE TRIGGER invoicing_quoteline_guard_{event.lower()} BEFORE {event} "  # noqa: S608
        "ON invoicing_quoteline WHEN EXISTS (SELECT 1 FROM invoicing_quote quote "
        f"WHERE quote.id = {row}.quote_id AND quote.sent_at IS NOT NULL) "
        f"BEGIN SELECT RAISE(ABORT, '{_SENT}'); END"
    )


QUOTE_LINE_GUARD: Final = expect(
    Guard(
        name="invoicing_quoteline_guard",
        table="invoicing_quoteline",
        sqlite=(
            _lines_sqlite("INSERT", "NEW"),
            _lines_sqlite("UPDATE", "OLD"),
            _lines_sqlite("DELETE", "OLD"),
        ),
        postgres=(
            "CREATE OR REPLACE FUNCTION invoicing_quoteline_guard() "  # noqa: S608
            "RETURNS trigger AS $$ DECLARE line invoicing_quoteline; BEGIN "
            "IF TG_OP = 'INSERT' THEN line := NEW; ELSE line := OLD; END IF; "
            "IF EXISTS (SELECT 1 FROM invoicing_quote quote "
            "WHERE quote.id = line.quote_id AND quote.sent_at IS NOT NULL) "
            f"THEN RAISE EXCEPTION '{_SENT}'; END IF; "
            "IF TG_OP = 'DELETE' THEN RETURN OLD; END IF; RETURN NEW; END "
            "$$ LANGUAGE plpgsql",
            "CREATE TRIGGER invoicing_quoteline_guard "
            "BEFORE INSERT OR UPDATE OR DELETE ON invoicing_quoteline "
            "FOR EACH ROW EXECUTE FUNCTION invoicing_quoteline_guard()",
        ),
    )
)

CHOICE_GUARD: Final = expect(
    frozen(
        "invoicing_acceptance",
        columns=("chosen",),
        why="a yes is never rewritten",
        deletable=True,  # the other guard of the table refuses that
        name="invoicing_acceptance_choice_guard",
    )
)

ACCEPTANCE_GUARD: Final = expect(
    frozen(
        "invoicing_acceptance",
        columns=(
            "quote_id",
            "name",
            "how",
            "accepted_at",
            "recorded_at",
            "recorded_by_id",
            "quote_version",
            "content",
            "total_minor",
            "deposit_minor",
            "deposit_due_on",
            "may_show_pictures",
            "snapshot_hash",
            "accepted_hash",
            "scan_id",
        ),
        why="a yes is never rewritten",
    )
)
