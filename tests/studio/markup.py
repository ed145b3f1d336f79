"""Reads a page as a browser would: its elements, ids and what points at them."""

from __future__ import annotations

from html.parser import HTMLParser


class Markup(HTMLParser):
    """Every element of a page with its attributes, in order, and its words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.words = ""
        self._in_script = False
        self.inline_script = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        self._in_script = tag == "script"

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        self._in_script = False

    def handle_data(self, data: str) -> None:
        if self._in_script:
            self.inline_script += data.strip()
        else:
            self.words += data

    @property
    def ids(self) -> list[str]:
        return [attrs["id"] for _, attrs in self.elements if "id" in attrs]

    def of(self, tag: str, **wanted: str) -> list[dict[str, str]]:
        return [
            attrs
            for name, attrs in self.elements
            if name == tag and all(attrs.get(k) == v for k, v in wanted.items())
        ]

    def dangling(self) -> list[str]:
        """Return what is pointed at but is not on the page."""
        wanted: list[str] = []
        for tag, attrs in self.elements:
            for name in ("for", "aria-describedby", "aria-labelledby", "aria-controls"):
                wanted += attrs.get(name, "").split()
            href = attrs.get("href", "")
            if tag == "a" and href.startswith("#") and len(href) > 1:
                wanted.append(href[1:])
        return [name for name in wanted if name not in self.ids]

    def forbidden(self) -> list[str]:
        """Return what the content security policy would refuse."""
        refused = [self.inline_script] if self.inline_script else []
        for tag, attrs in self.elements:
            if tag == "style":
                refused.append(tag)
            refused += [
                f"{tag} {name}"
                for name in attrs
                if name == "style" or name.startswith(("on", "hx-on"))
            ]
        return refused
