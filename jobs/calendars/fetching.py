"""Fetching a calendar from an address that a user gave, and nothing else with it.

Only https, port 443, and only where every address of the host is a public one. The
connection is made to the very address that was checked, so that a name which answers
otherwise a moment later leads nowhere; each redirect is checked like a new address.
"""

from __future__ import annotations

import http.client
import ipaddress
import socket
import ssl
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Final
from urllib.parse import SplitResult, urljoin, urlsplit

from studio.errors import DomainError

PORT: Final = 443
MOST_BYTES: Final = 4 * 1_048_576
LONGEST_S: Final = 15.0
STEP_S: Final = 5.0
MOST_REDIRECTS: Final = 3
OK: Final = 200
REDIRECTS: Final = frozenset({301, 302, 303, 307, 308})

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
Resolve = Callable[[str], list[str]]

# Addresses that carry another one inside; what they lead to is not known here.
_WRAPPED: Final = tuple(
    ipaddress.ip_network(net)
    for net in ("::ffff:0:0/96", "::/96", "64:ff9b::/32", "2002::/16", "2001::/32")
)


class FetchError(DomainError):
    """A calendar was not fetched; the reason is fit to show."""


class UnsafeAddressError(FetchError):
    """An address leads, or may lead, to where the studio does not fetch from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """Where to fetch from: a name, the checked address behind it, and a path."""

    host: str
    pinned: str
    path: str


class Answer:
    """What a server said, as far as it matters here."""

    def __init__(self, status: int, headers: dict[str, str], body: bytes) -> None:
        self.status = status
        self.headers = headers
        self.body = body


Get = Callable[[Target], Answer]


def check_address(address: str) -> SplitResult:
    """Return the parts of an address that may be fetched from.

    `webcal:` is read as `https:`. Raises UnsafeAddressError.
    """
    written = address.strip()
    if written[:7].lower() == "webcal:":
        written = f"https:{written[7:]}"
    try:
        parts = urlsplit(written)
        port = parts.port
    except ValueError as fault:
        raise UnsafeAddressError("This is no address of a calendar.") from fault
    if parts.scheme != "https" or not parts.hostname:
        raise UnsafeAddressError("Give an address that starts with https://")
    if port not in {None, PORT}:
        raise UnsafeAddressError("Give an address without a port of its own.")
    if parts.username or parts.password:
        raise UnsafeAddressError("Give an address without a name and password in it.")
    if not written.isascii() or any(sign in written for sign in " \t\r\n\\"):
        raise UnsafeAddressError("This is no address of a calendar.")
    return parts


def fetch(
    address: str, *, resolve: Resolve | None = None, get: Get | None = None
) -> bytes:
    """Return what stands at an address. Raises FetchError and UnsafeAddressError."""
    for _ in range(MOST_REDIRECTS + 1):
        target = find_target(address, resolve=resolve or resolve_host)
        answer = (get or get_pinned)(target)
        if answer.status not in REDIRECTS:
            return _body(answer)
        where = answer.headers.get("location", "")
        address = urljoin(f"https://{target.host}{target.path}", where)
    raise FetchError("The address leads from one page to the next without end.")


def find_target(address: str, *, resolve: Resolve) -> Target:
    """Return where an address leads, every address of its host looked at."""
    parts = check_address(address)
    host = str(parts.hostname)
    try:
        found = resolve(host)
    except (OSError, UnicodeError) as fault:
        raise FetchError(f"No machine is called {host}.") from fault
    if not found or not all(is_public(one) for one in found):
        raise UnsafeAddressError(f"{host} is not a public address.")
    path = parts.path or "/"
    return Target(
        host=host,
        pinned=found[0],
        path=f"{path}?{parts.query}" if parts.query else path,
    )


def is_public(address: str) -> bool:
    """Say whether a network address lies in the public network for certain."""
    try:
        read: Address = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return False
    if any(read in net for net in _WRAPPED if net.version == read.version):
        return False
    return read.is_global and not read.is_multicast and not read.is_reserved


def resolve_host(host: str) -> list[str]:
    """Return every network address of a host."""
    rows = socket.getaddrinfo(host, PORT, type=socket.SOCK_STREAM)
    return [str(row[4][0]) for row in rows]


class _PinnedConnection(http.client.HTTPSConnection):
    """A connection to one checked address; the certificate must be the host's."""

    def __init__(self, target: Target) -> None:
        self.trust = ssl.create_default_context()
        super().__init__(target.host, PORT, timeout=STEP_S, context=self.trust)
        self.pinned = target.pinned
        self.line: ssl.SSLSocket | None = None
        self.is_late = False

    def connect(self) -> None:
        """Connect to the checked address instead of asking for the name again."""
        plain = socket.create_connection((self.pinned, PORT), timeout=STEP_S)
        self.line = self.trust.wrap_socket(plain, server_hostname=self.host)
        self.sock = self.line

    def hang_up(self) -> None:
        """Break the line off, whoever waits for it."""
        self.is_late = True
        if self.line is not None:
            with suppress(OSError):
                self.line.shutdown(socket.SHUT_RDWR)


def get_pinned(target: Target) -> Answer:
    """Ask a server for a calendar; give up after 15 seconds or 4 MB."""
    connection = _PinnedConnection(target)
    watch = threading.Timer(LONGEST_S, connection.hang_up)
    watch.start()
    headers = {"Accept": "text/calendar", "Accept-Encoding": "identity"}
    try:
        connection.request("GET", target.path, headers=headers)
        answer = connection.getresponse()
        body = answer.read(MOST_BYTES + 1)
        known = {name.lower(): value for name, value in answer.getheaders()}
    except (OSError, http.client.HTTPException, ValueError) as fault:
        if connection.is_late:
            raise FetchError(f"{target.host} took too long.") from fault
        raise FetchError(f"{target.host} did not answer as it should.") from fault
    finally:
        watch.cancel()
        connection.close()
    if connection.is_late:
        raise FetchError(f"{target.host} took too long.")
    return Answer(answer.status, known, body)


def _body(answer: Answer) -> bytes:
    if answer.status != OK:
        raise FetchError(f"The address answered {answer.status}, not a calendar.")
    if len(answer.body) > MOST_BYTES:
        raise FetchError("The calendar is larger than 4 MB.")
    said = answer.headers.get("content-length", "")
    if said.isdigit() and int(said) > len(answer.body):
        raise FetchError("The calendar broke off before its end.")
    return answer.body
