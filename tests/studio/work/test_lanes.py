import threading
import time
from collections import Counter
from datetime import timedelta

import pytest

from studio.celery import app
from studio.schedule import SCHEDULE, Entry, Lane, beat_schedule
from studio.work import doing
from studio.work.lanes import LaneThread
from studio.work.worker import Worker


def entry(name: str, every_s: float, **fields: object) -> Entry:
    return Entry(task=name, every=timedelta(seconds=every_s), **fields)  # type: ignore[arg-type]


def wait_until(true: object, *, for_s: float = 3.0) -> bool:
    ends = time.monotonic() + for_s
    while time.monotonic() < ends:
        if true():  # type: ignore[operator]
            return True
        time.sleep(0.01)
    return False


def test_a_lane_does_each_entry_as_often_as_the_table_says() -> None:
    done, stop = Counter[str](), threading.Event()

    def do(one: Entry) -> bool:
        done[one.task] += 1
        return True

    lane = LaneThread("x", [entry("often", 0.05), entry("once", 60)], do=do, stop=stop)
    lane.start()
    assert wait_until(lambda: done["often"] >= 4)
    stop.set()
    lane.join(2)

    assert done["once"] == 1
    assert not lane.is_alive()


def test_an_entry_that_no_app_knows_is_asked_once() -> None:
    done, stop = Counter[str](), threading.Event()

    def do(one: Entry) -> bool:
        done[one.task] += 1
        return one.task != "unknown"

    lane = LaneThread("x", [entry("a", 0.02), entry("unknown", 0.02)], do=do, stop=stop)
    lane.start()
    assert wait_until(lambda: done["a"] >= 5)
    stop.set()

    assert done["unknown"] == 1


def test_heavy_work_holds_no_letter_up() -> None:
    done, released = Counter[str](), threading.Event()

    def do(one: Entry) -> bool:
        done[one.task] += 1
        if one.task == "heavy":
            released.wait(5)
        return True

    entries = [entry("light", 0.05), entry("heavy", 60, lane=Lane.HEAVY)]
    worker = Worker(do=do, entries=entries)
    thread = threading.Thread(target=worker.run)
    thread.start()
    kept_going = wait_until(lambda: done["light"] >= 3)
    released.set()
    worker.stop.set()
    thread.join(5)

    assert kept_going
    assert done["heavy"] == 1


def test_a_lane_over_its_time_limit_ends_the_worker() -> None:
    released = threading.Event()

    def do(_: Entry) -> bool:
        return released.wait(10)

    hanging = entry("hangs", 60, lane=Lane.HEAVY, limit=timedelta(seconds=0.1))
    outcome = Worker(do=do, entries=[hanging]).run()
    released.set()

    assert outcome == 1


def test_the_beat_reads_the_same_table() -> None:
    assert set(beat_schedule()) == {one.task for one in SCHEDULE}
    mail = beat_schedule()["studio.send_waiting_mail"]
    assert mail["schedule"] == timedelta(seconds=5)
    assert mail["options"]["expires"] == 60


@pytest.fixture
def tasks() -> None:
    doing.find_tasks()


@pytest.mark.django_db
@pytest.mark.usefixtures("tasks")
def test_every_task_of_the_table_that_this_app_owns_is_found() -> None:
    assert "studio.send_waiting_mail" in app.tasks
    assert doing.do_here(entry("nobody.has_this", 1)) is False


def test_a_fault_of_a_task_does_not_end_its_lane(
    caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> None:
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(doing, "_task", lambda _: broken)
    monkeypatch.setattr(doing, "close_old_connections", lambda: None)

    assert doing.do_here(entry("breaks", 1)) is True
    assert "breaks failed" in caplog.text


@pytest.mark.usefixtures("tasks")
def test_a_broker_that_is_down_is_only_logged(
    caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def down(*_: object, **__: object) -> None:
        raise ConnectionError("nobody listens")

    monkeypatch.setattr(app, "send_task", down)

    assert doing.hand_over(entry("studio.send_waiting_mail", 5)) is True
    assert "was not handed to the broker" in caplog.text


@pytest.mark.usefixtures("tasks")
def test_a_task_that_is_handed_over_lies_in_the_broker() -> None:
    with app.connection_for_write() as connection:
        queue = connection.SimpleQueue("celery")
        queue.clear()
        doing.hand_over(entry("studio.send_waiting_mail", 5))

        message = queue.get(block=True, timeout=5)
        message.ack()
        queue.close()

    assert message.headers["task"] == "studio.send_waiting_mail"
    assert message.headers["expires"]
