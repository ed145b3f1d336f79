"""Every address that the site answers, found by walking the resolver."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver
from django.urls.resolvers import RoutePattern

# A converter of our own is filled with the first word that its regex names.
SAMPLES = {
    "IntConverter": "999983",
    "StringConverter": "none-such",
    "SlugConverter": "none-such",
    "UUIDConverter": "00000000-0000-4000-8000-000000000000",
    "PathConverter": "none/such",
}


@dataclass(frozen=True)
class Address:
    """One route with a path that fits it, though no row stands behind it."""

    name: str
    route: str
    path: str
    view: Callable[..., Any]

    @property
    def is_ours(self) -> bool:
        return not self.view.__module__.startswith("allauth.")

    @property
    def policy(self) -> str:
        return getattr(self.view, "policy", "")


def addresses() -> list[Address]:
    return list(_walk(get_resolver().url_patterns, "", "/"))


def ours() -> list[Address]:
    return [address for address in addresses() if address.is_ours]


def _walk(
    entries: list[URLPattern | URLResolver], route: str, path: str
) -> Iterator[Address]:
    for entry in entries:
        so_far = route + str(entry.pattern)
        filled = path + _filled(entry)
        if isinstance(entry, URLResolver):
            yield from _walk(entry.url_patterns, so_far, filled)
        else:
            yield Address(entry.name or "", so_far, filled, entry.callback)


def _filled(entry: URLPattern | URLResolver) -> str:
    pattern = entry.pattern
    if not isinstance(pattern, RoutePattern):
        return str(pattern)
    path = str(pattern)
    for name, converter in pattern.converters.items():
        kind = type(converter).__name__
        sample = SAMPLES.get(kind) or converter.regex.strip("()").split("|")[0]
        for written in (f"<{name}>", *(f"<{word}:{name}>" for word in _words(path))):
            path = path.replace(written, sample)
    return path


def _words(path: str) -> list[str]:
    return [part.split(":")[0] for part in path.split("<")[1:] if ":" in part]
