"""One thing that a plan asks for."""

from __future__ import annotations

import re
from dataclasses import dataclass

from jobs.kits.models import KitCategory, KitItem
from planning.checklists.models import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """Which items of the studio's kit would meet a need, known by their names."""

    called: tuple[str, ...]
    """Beginnings of words, any of which the name holds."""
    category: KitCategory | None = None
    count: int = 1

    def fits(self, item: KitItem) -> bool:
        """Say whether an item would do."""
        if self.category not in (None, item.category):
            return False
        return any(
            re.search(rf"\b{re.escape(word)}", item.name, re.IGNORECASE)
            for word in self.called
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing to pack or do; `key` stays the same while the reason stands.

    `kit_item_id` names the very item, `want` what any of several would meet.
    """

    key: str
    section: Section
    words: str
    reason: str = ""
    kit_item_id: int | None = None
    want: Want | None = None
    bag: str = ""
