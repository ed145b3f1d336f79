"""A lane: one thread that does its entries of the schedule, one after the other."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Collection

from studio.schedule import Entry

Do = Callable[[Entry], bool]


class LaneThread(threading.Thread):
    """Does each entry when it is due, until it is told to stop.

    `do` returns False for an entry that nobody here can do; it is not asked again.
    """

    def __init__(
        self, name: str, entries: Collection[Entry], *, do: Do, stop: threading.Event
    ) -> None:
        super().__init__(name=name, daemon=True)
        self._due_s = dict.fromkeys(entries, time.monotonic())
        self._do = do
        self._stop_asked = stop
        self._in_hand: tuple[Entry, float] | None = None

    def run(self) -> None:
        """Work until told to stop."""
        while self._due_s and not self._stop_asked.is_set():
            entry = min(self._due_s, key=self._due_s.__getitem__)
            if self._stop_asked.wait(max(self._due_s[entry] - time.monotonic(), 0)):
                return
            self._take(entry)

    def overdue(self) -> Entry | None:
        """Return the entry in hand if it is over its time limit."""
        if self._in_hand is None:
            return None
        entry, began_s = self._in_hand
        spent_s = time.monotonic() - began_s
        return entry if spent_s > entry.limit.total_seconds() else None

    def _take(self, entry: Entry) -> None:
        began_s = time.monotonic()
        self._in_hand = (entry, began_s)
        try:
            known = self._do(entry)
        finally:
            self._in_hand = None
        if known:
            self._due_s[entry] = began_s + entry.every.total_seconds()
        else:
            del self._due_s[entry]
