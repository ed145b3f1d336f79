"""The web server of `start`: its socket, its address, its threads."""

from __future__ import annotations

import errno
import gc
import os
import socket
from typing import Any, Final

from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.urls import resolve
from waitress.server import create_server

from studio.environment import SERVER
from studio.errors import DomainError

HERE: Final = "127.0.0.1"
EVERYWHERE: Final = "0.0.0.0"  # noqa: S104 - only where --lan asks for it
THREADS: Final = 8
# Documentation address (RFC 5737): nothing is sent, the machine only picks a route.
SOMEWHERE: Final = ("192.0.2.1", 9)
PROXY: Final = {
    "trusted_proxy": HERE,
    "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"},
}


class PortBusyError(DomainError):
    """Another program listens on the port."""


def open_socket(*, port: int, lan: bool) -> socket.socket:
    """Take the port before anything else is done. Raises PortBusyError."""
    taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        taken.bind((EVERYWHERE if lan else HERE, port))
        taken.listen(128)
    except OSError as fault:
        taken.close()
        raise PortBusyError(_why(fault, port)) from fault
    return taken


def make_server(taken: socket.socket) -> Any:
    """Return the server, its pages loaded, ready to run on the socket.

    What is loaded is no garbage: a pass over it would hold up whoever waits for a page.
    """
    resolve("/")
    gc.freeze()
    return create_server(
        WSGIHandler(),
        sockets=[taken],
        threads=THREADS,
        ident="",
        **(PROXY if SERVER else {}),
    )


def answer_on_lan() -> str:
    """Let the site answer under this machine's own address; return the address."""
    address = lan_address()
    name = socket.gethostname()
    settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, address, name, f"{name}.local"]
    return address


def lan_address() -> str:
    """Return the address that this machine has in its network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(SOMEWHERE)
        except OSError:
            return HERE
        return str(probe.getsockname()[0])


def _why(fault: OSError, port: int) -> str:
    if fault.errno == errno.EADDRINUSE:
        return (
            f"Another program listens on port {port}. Is the studio running already? "
            f"If not, choose another port: --port {port + 1}"
        )
    if fault.errno in {errno.EACCES, errno.EPERM}:
        return f"This user may not use port {port}. Choose one above 1023: --port 8000"
    return f"Port {port} cannot be used: {fault.strerror}"
