"""What changed between two versions of a call sheet, line by line.

Pure: two kept contents in, sentences out, for the crew's paper or for the client's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest
from typing import Any, Final

Content = Mapping[str, Any]
LONG: Final = 80
"""Of words longer than this, what stood before is not repeated; our choice."""


def crew_changes(was: Content, now: Content) -> tuple[str, ...]:
    """Return what the crew's paper says otherwise than before, times first."""
    return tuple(_crew(was.get("sheet", {}), now.get("sheet", {})))


def client_changes(was: Content, now: Content) -> tuple[str, ...]:
    """Return what the client's page says otherwise than before, times first."""
    return tuple(_client(was.get("page", {}), now.get("page", {})))


def changed_set_ups(was: Content, now: Content) -> frozenset[int]:
    """Return the rows of the set-ups that are new, or that anything was changed of."""
    before = {one["key"]: one for one in was.get("sheet", {}).get("set_ups", ())}
    after = now.get("sheet", {}).get("set_ups", ())
    return frozenset(
        one["key"] for one in after if before and before.get(one["key"]) != one
    )


def changed_facts(was: Content, now: Content, part: str) -> frozenset[str]:
    """Return the labels of the facts of one paper that have another value now."""
    before = dict(was.get(part, {}).get("facts", ()))
    return frozenset(
        label
        for label, value in now.get(part, {}).get("facts", ())
        if before and before.get(label) != value
    )


def _crew(was: Content, now: Content) -> Iterator[str]:
    if not was or not now:
        return
    yield from _words("Title", was.get("title", ""), now.get("title", ""))
    yield from _words("Day", was.get("day", ""), now.get("day", ""))
    for part in ("facts", "place", "access"):
        yield from _pairs(was.get(part, ()), now.get(part, ()))
    if was.get("who", ()) != now.get("who", ()):
        # A letter repeats this, and bookkeepers see letters: it names nobody.
        yield "The groups, or who needs what, changed"
    yield from _words("If it rains", was.get("rain", ""), now.get("rain", ""))
    yield from _words("Note", was.get("notes", ""), now.get("notes", ""))
    yield from _people(was.get("people", ()), now.get("people", ()))
    yield from _set_ups(was.get("set_ups", ()), now.get("set_ups", ()))
    yield from _lists("Kit", _kit(was), _kit(now))
    yield from _lists("Cautions", _matters(was), _matters(now))
    if was.get("light") != now.get("light"):
        yield "The table of light has other figures"


def _client(was: Content, now: Content) -> Iterator[str]:
    if not was or not now:
        return
    yield from _words("Day", was.get("day", ""), now.get("day", ""))
    yield from _pairs(was.get("facts", ()), now.get("facts", ()))
    yield from _words("Place", was.get("place", ""), now.get("place", ""))
    yield from _pairs(_labelled(was.get("where", ())), _labelled(now.get("where", ())))
    yield from _steps(was.get("steps", ()), now.get("steps", ()))
    for title, part in (("What to wear", "wear"), ("What to bring", "bring")):
        yield from _lists(title, was.get(part, ()), now.get(part, ()))
    told = (("Getting there", "getting_there"), ("If it pours", "if_it_pours"))
    for title, part in told:
        yield from _words(title, was.get(part, ""), now.get(part, ""))
    yield from _words("Light", *("".join(one.get("light", ())) for one in (was, now)))
    ring = [" ".join(one.get("on_the_day", ())) for one in (was, now)]
    yield from _words("On the day, ring", *ring)


def _words(label: str, was: str, now: str) -> Iterator[str]:
    """Say what words say now, and what they said before if that is short."""
    if was == now:
        return
    if not now:
        yield f"{label}, taken off: {was}"
    elif not was:
        yield f"{label}, added: {now}"
    else:
        before = f", was “{was.rstrip('.')}”" if len(was) <= LONG else ""
        yield f"{label}: {now.rstrip('.')}{before}"


def _pairs(was: Sequence[Sequence[str]], now: Sequence[Sequence[str]]) -> Iterator[str]:
    """Hold labelled values against each other; values that are times read without
    a colon: "On site 16:30, was 16:00"."""
    before: dict[str, str] = {one[0]: one[1] for one in was}
    after: dict[str, str] = {one[0]: one[1] for one in now}
    for label in [*after, *(one for one in before if one not in after)]:
        old, new = before.get(label, ""), after.get(label, "")
        if old and new and old != new and _is_short(new):
            yield f"{label} {new}, was {old}".strip()
        else:
            yield from _words(label or "Access", old, new)


def _is_short(words: str) -> bool:
    return words[:1].isdigit() and len(words) <= 16


def _people(
    was: Sequence[Mapping[str, str]], now: Sequence[Mapping[str, str]]
) -> Iterator[str]:
    before = {one["name"]: one for one in was}
    after = {one["name"]: one for one in now}
    for name, one in after.items():
        old = before.get(name)
        if old is None:
            known = ", ".join(part for part in (one["role"], one["phone"]) if part)
            yield f"People, added: {name} ({known})"
            continue
        told = [
            f"{one[part]}, was {old[part]}"
            for part in ("role", "phone")
            if one[part] != old[part]
        ]
        if told:
            yield f"{name}: {'; '.join(told)}"
    for name in before:
        if name not in after:
            yield f"People, taken off: {name}"


def _set_ups(
    was: Sequence[Mapping[str, Any]], now: Sequence[Mapping[str, Any]]
) -> Iterator[str]:
    """Match set-ups by their row, and by their name where the row is another."""
    left = {one["key"]: one for one in was}
    for one in now:
        old = left.pop(one["key"], None)
        if old is None:
            twin = next((k for k, v in left.items() if v["name"] == one["name"]), None)
            old = left.pop(twin) if twin is not None else None
        if old is None:
            span = f"{one['start']}–{one['end']}"
            yield f"Set-up {one['number']}, added: {one['name']}, {span}"
        elif told := [*_set_up(old, one)]:
            yield f"{_called(old, one)}: {'; '.join(told)}"
    for gone in left.values():
        yield f"Set-up taken off: {gone['name']}, which was {gone['number']}"


def _called(was: Mapping[str, Any], now: Mapping[str, Any]) -> str:
    """Name a set-up by its number and lens; a new lens is told among the changes."""
    lenses = [part for part in _tokens(now) if part.endswith(" mm")]
    kept = [lens for lens in lenses[:1] if lens in _tokens(was)]
    return ", ".join([f"Set-up {now['number']}", *kept])


def _set_up(was: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[str]:
    if was["number"] != now["number"]:
        yield f"was number {was['number']}"
    if was["name"] != now["name"]:
        yield f"{now['name']}, was {was['name']}"
    spans = [f"{one['start']}–{one['end']}" for one in (was, now)]
    if spans[0] != spans[1]:
        yield f"{spans[1]}, was {spans[0]}"
    dials = [*_dials(was, now)]
    yield from dials
    if was["note"] != now["note"]:
        yield f"“{now['note'].rstrip('.')}”"
    if was["otherwise"] != now["otherwise"] and not dials:
        yield now["otherwise"].rstrip(".") or "no other settings for another sky"


def _dials(was: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[str]:
    """Say which setting is another; the shutter's range only where it alone is."""
    told = [
        (new, f"{new}, was {old}" if old and new else new or f"no longer {old}")
        for old, new in zip_longest(_tokens(was), _tokens(now), fillvalue="")
        if old != new
    ]
    settings = [words for new, words in told if not new.startswith("range ")]
    yield from settings or [words for _, words in told]


def _tokens(one: Mapping[str, Any]) -> list[str]:
    """Return f-number, shutter, ISO, lens and the shutter's range, one by one."""
    dials = [part.strip() for part in one["settings"].split("  ") if part.strip()]
    beside = [part for part in one["beside"].split(", ") if part]
    return [*dials, *(f"range {part}" if " to " in part else part for part in beside)]


def _labelled(lines: Sequence[str]) -> list[tuple[str, str]]:
    """Part lines such as "Where we meet: the gate."; one without a label is where
    the place is."""
    parted = [line.partition(": ") for line in lines]
    return [(a, b) if colon else ("Address", a) for a, colon, b in parted]


def _steps(was: Sequence[Sequence[str]], now: Sequence[Sequence[str]]) -> Iterator[str]:
    """Hold the steps of a session against each other by their names."""
    before = {name: start for start, name, _ in was}
    after = {name: start for start, name, _ in now}
    for name, start in after.items():
        if name not in before:
            yield f"Added: {name} at {start}"
        elif before[name] != start:
            yield f"{name} {start}, was {before[name]}"
    for name in before:
        if name not in after:
            yield f"Taken off: {name}"


def _lists(label: str, was: Sequence[str], now: Sequence[str]) -> Iterator[str]:
    added = [one for one in now if one not in was]
    gone = [one for one in was if one not in now]
    if added:
        yield f"{label}, added: {', '.join(added)}"
    if gone:
        yield f"{label}, taken off: {', '.join(gone)}"


def _kit(content: Content) -> list[str]:
    return [words for _, items in content.get("kit", ()) for words in items]


def _matters(content: Content) -> list[str]:
    return [matter.rstrip(".") for matter, _ in content.get("cautions", ())]
