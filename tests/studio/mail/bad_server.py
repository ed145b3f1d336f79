"""A mail server on this machine that takes letters, or misbehaves as it is told."""

from __future__ import annotations

import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any


@dataclass
class Sink:
    """What the server does, and what it has taken."""

    mode: str = "ok"
    taken: list[bytes] = field(default_factory=list)
    connections: int = 0
    port: int = 0
    released: threading.Event = field(default_factory=threading.Event)


class _Talk(socketserver.StreamRequestHandler):
    sink: Sink

    def say(self, line: str) -> None:
        self.wfile.write(line.encode() + b"\r\n")

    def handle(self) -> None:
        try:
            self.talk()
        except OSError:
            return

    def talk(self) -> None:
        self.sink.connections += 1
        if self.sink.mode == "hang up at once":
            return
        if self.sink.mode == "never greet":
            self.sink.released.wait(30)
            return
        self.say("noise without a code" if self.sink.mode == "noise" else "220 sink")
        while line := self.rfile.readline().strip().upper():
            if not self.answer(line):
                return

    def answer(self, line: bytes) -> bool:
        mode = self.sink.mode
        if line == b"DATA":
            return self.take()
        if line.startswith(b"MAIL") and mode == "drop before the text":
            return False
        refused = line.startswith(b"RCPT") and mode == "550 for the reader"
        self.say("550 no such mailbox" if refused else "250 ok")
        return line != b"QUIT"

    def take(self) -> bool:
        mode = self.sink.mode
        self.say("354 go on")
        lines = []
        while (line := self.rfile.readline()) not in {b".\r\n", b""}:
            lines.append(line)
        if mode == "451 for the text":
            self.say("451 later, please")
            return True
        self.sink.taken.append(b"".join(lines))
        if mode == "drop after the text":
            return False
        if mode == "never answer the text":
            self.sink.released.wait(30)
            return False
        self.say("250 taken")
        return True


@contextmanager
def mail_server(mode: str = "ok") -> Iterator[Sink]:
    sink = Sink(mode)

    class Talk(_Talk):
        pass

    Talk.sink = sink

    class Server(socketserver.ThreadingTCPServer):
        allow_reuse_address = True
        daemon_threads = True

    with Server(("127.0.0.1", 0), Talk) as server:
        sink.port = server.server_address[1]
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield sink
        finally:
            sink.released.set()
            server.shutdown()
            thread.join()


def speak_to(sink: Sink, settings: Any, *, timeout_s: float = 0.5) -> None:
    """Point Django's mail at the server."""
    settings.EMAIL_BACKEND = "studio.mail.smtp.SmtpBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", sink.port
    settings.EMAIL_USE_TLS = settings.EMAIL_USE_SSL = False
    settings.EMAIL_HOST_USER = settings.EMAIL_HOST_PASSWORD = ""
    settings.EMAIL_TIMEOUT = timeout_s
