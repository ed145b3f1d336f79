"""What a page lacks for somebody who has only a keyboard, as far as its text says."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Final

SILENT: Final = {"hidden", "submit", "button", "image", "reset"}
SENT_BY_ENTER: Final = (["text"], ["search"])
"""A form with one such field alone goes by Enter (HTML: implicit submission)."""
FIELDS: Final = {"input", "select", "textarea"}


@dataclass
class _Form:
    place: str
    kinds: list[str] = field(default_factory=list)
    has_submit: bool = False


@dataclass
class _Seen:
    forms: list[_Form] = field(default_factory=list)
    labelled: set[str] = field(default_factory=set)
    fields: list[tuple[str, str]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    """Reads fields with their labels, forms with their buttons, links and order."""

    def __init__(self) -> None:
        super().__init__()
        self.seen = _Seen()
        self.form: _Form | None = None
        self.in_label = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if said.get("tabindex", "0").lstrip("+").isdigit() and int(
            said.get("tabindex", "0")
        ):
            self.seen.faults.append(f"<{tag}> is out of its turn (tabindex)")
        if tag == "form":
            self.form = _Form(said.get("action", ""))
            self.seen.forms.append(self.form)
        elif tag == "label":
            self.in_label = True
            self.seen.labelled.add(said.get("for", ""))
        elif tag == "a" and said.get("href", "").startswith("/"):
            self.seen.links.append(said["href"])
        elif tag == "button" and said.get("type", "submit") == "submit":
            self._submits(said)
        elif tag in FIELDS:
            self._field(tag, said)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.form = None
        elif tag == "label":
            self.in_label = False

    def _submits(self, said: dict[str, str]) -> None:
        if self.form:
            self.form.has_submit = True

    def _field(self, tag: str, said: dict[str, str]) -> None:
        kind = said.get("type", "text") if tag == "input" else tag
        if kind == "submit":
            self._submits(said)
        if kind in SILENT:
            return
        if self.form:
            self.form.kinds.append(kind)
        named = said.get("aria-label") or said.get("aria-labelledby") or self.in_label
        if not named:
            self.seen.fields.append((said.get("id", ""), said.get("name", "")))


def looked_at(page: str) -> tuple[list[str], list[str]]:
    """Return what a page lacks for the keyboard, and where it leads."""
    reader = _Reader()
    reader.feed(page)
    seen = reader.seen
    faults = list(seen.faults)
    faults += [
        f"the field “{name}” has no label"
        for ident, name in seen.fields
        if not ident or ident not in seen.labelled
    ]
    faults += [
        f"the form to “{form.place}” has no button that sends it"
        for form in seen.forms
        if form.kinds and not form.has_submit and form.kinds not in SENT_BY_ENTER
    ]
    return faults, seen.links
