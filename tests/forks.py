"""A process with Django loaded, which forks another for each piece of code it is given.

Each piece runs in a process of its own, with connections of its own, and may be killed;
what it saves is the start: two seconds of imports. Run by `tests.machine`.
"""

from __future__ import annotations

import json
import os
import select
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from studio.sqlite import use_newer_sqlite

WAITS_S = 120


class Forks:
    """The side of the tests: hands code over, and takes what became of it."""

    def __init__(self, environment: dict[str, str], *, folder: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.forks"],
            cwd=folder,
            env={"DJANGO_SETTINGS_MODULE": "tests.settings", **environment},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(self, code: str) -> subprocess.CompletedProcess[str]:
        """Run code in a fork, and wait until it has ended."""
        with tempfile.TemporaryDirectory() as folder:
            out, err = Path(folder) / "out", Path(folder) / "err"
            order = {"code": code, "out": str(out), "err": str(err)}
            status = self._ask(json.dumps(order))
            return subprocess.CompletedProcess(
                code, status, out.read_text(), err.read_text()
            )

    def close(self) -> None:
        """End the process; it ends by itself, too, once nobody hands it code."""
        self._process.kill()
        self._process.communicate(timeout=WAITS_S)

    def _ask(self, order: str) -> int:
        given, answers = self._process.stdin, self._process.stdout
        assert given is not None
        assert answers is not None
        given.write(f"{order}\n")
        given.flush()
        if not select.select([answers], [], [], WAITS_S)[0]:
            self._process.kill()
            raise TimeoutError(f"no answer in {WAITS_S} s")
        return int(answers.readline())


def main() -> None:
    """Load Django, then fork for each line that comes in, and tell how it ended."""
    use_newer_sqlite()
    import django  # noqa: PLC0415 - after the choice of SQLite

    django.setup()
    for line in sys.stdin:
        child = os.fork()
        if not child:
            return _be_alone(json.loads(line))
        _, status = os.waitpid(child, 0)
        print(os.waitstatus_to_exitcode(status), flush=True)
    return None


def _be_alone(order: dict[str, Any]) -> None:
    """Run the code as a program of its own would be, in this process."""
    with Path(os.devnull).open() as nothing:
        os.dup2(nothing.fileno(), 0)
    for number, name in ((1, "out"), (2, "err")):
        with Path(order[name]).open("w") as file:
            os.dup2(file.fileno(), number)
    exec(compile(order["code"], "<test>", "exec"), {"__name__": "__main__"})  # noqa: S102


if __name__ == "__main__":
    main()
