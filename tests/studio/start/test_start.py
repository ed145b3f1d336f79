"""The one command, run as a user runs it."""

import http.cookiejar
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from studio.start.web import PortBusyError, lan_address, open_socket
from tests.machine import ROOT, Machine, new_machine

AS_SHIPPED = {"DJANGO_SETTINGS_MODULE": "studio.settings"}
LETTER = """
from tests.make_mail import make_message
make_message(subject="Sent by the child")
"""


def wait_for(ask: Callable[[], object], *, for_s: float = 30.0) -> object:
    ends = time.monotonic() + for_s
    while not (answer := ask()) and time.monotonic() < ends:
        time.sleep(0.1)
    return answer


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


@contextmanager
def started(machine: Machine, log: Path, port: int) -> Iterator[subprocess.Popen[str]]:
    with log.open("w") as out:
        process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--port", str(port)],
            cwd=ROOT,
            env=machine.environment,
            stdout=out,
            stderr=subprocess.STDOUT,
            text=True,
        )
        try:
            up = wait_for(lambda: "Ctrl-C" in log.read_text(), for_s=120)
            assert up, log.read_text()
            yield process
        finally:
            if process.poll() is None:
                process.terminate()
            process.wait(60)


def children(pid: int) -> list[int]:
    listed = Path(f"/proc/{pid}/task").glob("*/children")
    return [int(word) for path in listed for word in path.read_text().split()]


def is_alive(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"


class StayHere(urllib.request.HTTPRedirectHandler):
    """Leaves redirects to whoever looks at the answer."""

    def redirect_request(self, *_: object) -> None:
        return None


def sign_in(port: int, name: str, password: str) -> str:
    """Sign in as a browser would; return where that leads."""
    cookies = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
    browser = urllib.request.build_opener(cookies, StayHere)
    address = f"http://127.0.0.1:{port}/account/login/"
    with browser.open(address) as page:
        found = re.search(r'csrfmiddlewaretoken" value="(\w+)"', page.read().decode())
    assert found is not None
    form = {"login": name, "password": password, "csrfmiddlewaretoken": found[1]}
    with pytest.raises(urllib.error.HTTPError) as answer:
        browser.open(address, urllib.parse.urlencode(form).encode())
    answer.value.close()
    return str(answer.value.headers["Location"])


@pytest.fixture
def machine(tmp_path: Path) -> Iterator[Machine]:
    with new_machine(tmp_path / "var", migrated=False, **AS_SHIPPED) as machine:
        yield machine


@pytest.fixture
def migrated(django_db_setup: None, tmp_path: Path) -> Iterator[Machine]:
    with new_machine(tmp_path / "var", migrated=True, **AS_SHIPPED) as machine:
        yield machine


def test_one_command_serves_works_and_leaves_nothing_behind(
    machine: Machine, tmp_path: Path
) -> None:
    port, log = free_port(), tmp_path / "log"
    with started(machine, log, port) as process:
        password = re.search(r"owner  (\S+)", log.read_text())
        assert password is not None
        assert sign_in(port, "owner", password[1]) == "/"

        busy = machine.manage("start", "--port", str(port))
        assert busy.returncode == 1
        assert f"listens on port {port}" in busy.stderr
        assert "Traceback" not in busy.stderr

        machine.python(LETTER)
        mail = machine.var / "mail"
        assert wait_for(lambda: list(mail.glob("*")) if mail.exists() else [])

        (child,) = children(process.pid)
        process.kill()
        process.wait()
        assert wait_for(lambda: not is_alive(child))

    with started(machine, log, port) as process:
        assert "owner" not in log.read_text()
        (child,) = children(process.pid)
        process.terminate()
        assert process.wait(60) == 0
        assert not is_alive(child)


def test_a_port_that_is_taken_is_told_with_another_to_try() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]

        with pytest.raises(PortBusyError, match=f"--port {port + 1}"):
            open_socket(port=port, lan=False)


def test_without_lan_only_this_machine_is_answered() -> None:
    with open_socket(port=0, lan=False) as taken:
        assert taken.getsockname()[0] == "127.0.0.1"


def test_the_address_in_the_network_is_one_of_ipv4() -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+\.\d+", lan_address())


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_work_alone_ends_on_a_signal(migrated: Machine, number: signal.Signals) -> None:
    process = subprocess.Popen(
        [sys.executable, "manage.py", "work"], cwd=ROOT, env=migrated.environment
    )
    stat = Path(f"/proc/{process.pid}/task")
    assert wait_for(lambda: len(list(stat.iterdir())) >= 3)

    process.send_signal(number)

    assert process.wait(40) == 0
