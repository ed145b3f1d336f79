import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from studio.work import child
from studio.work.child import Child

LEASHED = """
import sys
from pathlib import Path
Path(sys.argv[1]).open("a").write("started\\n")
sys.stdin.buffer.read()
"""


def wait_until(true: Callable[[], object], *, for_s: float = 5.0) -> bool:
    ends = time.monotonic() + for_s
    while time.monotonic() < ends:
        if true():
            return True
        time.sleep(0.02)
    return False


@pytest.fixture
def starts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(child, "WAITS_S", (0.05,))
    return tmp_path / "starts"


def lines(path: Path) -> int:
    return len(path.read_text().splitlines()) if path.exists() else 0


def test_a_child_that_is_killed_is_made_again(starts: Path) -> None:
    kept = Child([sys.executable, "-c", LEASHED, str(starts)])
    kept.start()
    assert wait_until(lambda: lines(starts) == 1)
    first = kept.pid
    assert first is not None

    os.kill(first, signal.SIGKILL)

    assert wait_until(lambda: lines(starts) == 2)
    assert wait_until(lambda: kept.pid not in {None, first})
    kept.stop()


def test_the_child_ends_when_its_parent_says_so(starts: Path) -> None:
    kept = Child([sys.executable, "-c", LEASHED, str(starts)])
    kept.start()
    assert wait_until(lambda: lines(starts) == 1)

    kept.stop()

    assert kept.pid is None
    assert lines(starts) == 1
