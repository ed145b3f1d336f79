"""The child process of `start`: both lanes, and what ends them."""

from __future__ import annotations

import logging
import signal
import sys
import threading
import time
from collections.abc import Collection
from typing import Final

from studio.schedule import SCHEDULE, Entry, Lane
from studio.work.lanes import Do, LaneThread

logger = logging.getLogger(__name__)

GRACE_S: Final = 30.0
LOOK_S: Final = 0.5


class Worker:
    """Runs the schedule until it is told to stop, or a lane is over its limit."""

    def __init__(self, *, do: Do, entries: Collection[Entry] = SCHEDULE) -> None:
        self.stop = threading.Event()
        self._lanes = [
            LaneThread(
                lane.value,
                [entry for entry in entries if entry.lane == lane],
                do=do,
                stop=self.stop,
            )
            for lane in Lane
        ]

    def run(self) -> int:
        """Work; return 0 after a wish to stop, 1 after a lane that hangs.

        A thread cannot be ended from outside: the other lane may finish what it has
        in hand, then the whole process ends, and `start` makes a new one.
        """
        for lane in self._lanes:
            lane.start()
        outcome = 0
        while not self.stop.wait(LOOK_S):
            for lane in self._lanes:
                if entry := lane.overdue():
                    logger.error("%s is over its time limit: ending", entry.task)
                    outcome = 1
                    self.stop.set()
        self._let_finish()
        return outcome

    def _let_finish(self) -> None:
        ends_s = time.monotonic() + GRACE_S
        for lane in self._lanes:
            if lane.overdue() is None:
                lane.join(max(ends_s - time.monotonic(), 0))


def stop_on_signals(stop: threading.Event, *, leashed: bool) -> None:
    """Stop on SIGTERM; on Ctrl-C too, unless the parent decides that."""
    signal.signal(signal.SIGTERM, lambda *_: stop.set())
    if leashed:
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    else:
        signal.signal(signal.SIGINT, lambda *_: stop.set())


def stop_with_parent(stop: threading.Event) -> None:
    """Stop when the parent's end of the pipe closes, however the parent ended."""

    def hold() -> None:
        while sys.stdin.buffer.read(1):
            pass
        stop.set()

    threading.Thread(target=hold, name="leash", daemon=True).start()
