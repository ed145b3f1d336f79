"""One thing that a plan asks for."""

from __future__ import annotations

from dataclasses import dataclass

from planning.checklists.models import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing to pack or do; `key` stays the same while the reason stands."""

    key: str
    section: Section
    words: str
    reason: str = ""
    kit_item_id: int | None = None
