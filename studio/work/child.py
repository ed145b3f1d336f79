"""The parent's side: one child process, made again when it dies."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import threading
from collections.abc import Sequence
from typing import Final

from studio.environment import BASE

logger = logging.getLogger(__name__)

COMMAND: Final = (sys.executable, str(BASE / "manage.py"), "work", "--leashed")
WAITS_S: Final = (0.5, 1.0, 2.0, 5.0, 15.0, 30.0)
STEADY_S: Final = 60.0
GRACE_S: Final = 40.0


class Child:
    """Keeps one child process alive until `stop`. The pipe to it is its leash."""

    def __init__(self, command: Sequence[str] = COMMAND) -> None:
        self._command = command
        self._stop = threading.Event()
        self._process: subprocess.Popen[bytes] | None = None
        self._thread = threading.Thread(
            target=self._keep, name="child keeper", daemon=True
        )

    def start(self) -> None:
        """Start the child and keep it alive."""
        self._thread.start()

    def stop(self) -> None:
        """Let the child finish what it has in hand, then see that it is gone."""
        self._stop.set()
        process = self._process
        if process is not None:
            _end(process)
        self._thread.join(GRACE_S)

    @property
    def pid(self) -> int | None:
        """The child's process id, while there is one."""
        process = self._process
        return process.pid if process and process.poll() is None else None

    def _keep(self) -> None:
        deaths = 0
        while not self._stop.is_set():
            process = _begin(self._command)
            self._process = process
            if self._stop.is_set():
                _end(process)
                return
            try:
                process.wait(STEADY_S)
            except subprocess.TimeoutExpired:
                deaths = 0
                process.wait()
            if process.stdin:
                process.stdin.close()
            if self._stop.is_set():
                return
            wait_s = WAITS_S[min(deaths, len(WAITS_S) - 1)]
            deaths += 1
            logger.warning(
                "Background work ended (%s); again in %s s", process.returncode, wait_s
            )
            self._stop.wait(wait_s)


def _begin(command: Sequence[str]) -> subprocess.Popen[bytes]:
    """Start the child in a session of its own: Ctrl-C is for the parent to hear."""
    return subprocess.Popen(  # noqa: S603 - our own command
        command, stdin=subprocess.PIPE, start_new_session=os.name == "posix"
    )


def _end(process: subprocess.Popen[bytes]) -> None:
    if process.stdin:
        process.stdin.close()
    for ask in (None, process.terminate, process.kill):
        if ask is not None:
            ask()
        try:
            process.wait(GRACE_S if ask is None else 5)
        except subprocess.TimeoutExpired:
            continue
        return
