"""Rules about times: set-ups against each other, the session, and the gate."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from planning.shoots.cautions.rule import OWN_FIGURES, Scene, rule
from planning.shoots.cautions.said import clock_in
from planning.shoots.planned import Caution


@rule("overlap", OWN_FIGURES)
def overlaps(scene: Scene) -> Iterator[Caution]:
    """Warn where one set-up starts before another is over."""
    zone = scene.zone
    in_order = sorted(scene.set_ups, key=lambda one: one.facts.starts_at)
    for one, two in pairwise(in_order):
        if one.facts.ends_at > two.facts.starts_at:
            yield Caution(
                title=f"Set-ups {one.facts.number} and {two.facts.number} overlap",
                sentence=(
                    f"{one.facts.name} runs to {clock_in(one.facts.ends_at, zone)}, "
                    f"{two.facts.name} starts at "
                    f"{clock_in(two.facts.starts_at, zone)}."
                ),
                set_up=two.facts.number,
            )


@rule("outside-session", OWN_FIGURES)
def outside(scene: Scene) -> Iterator[Caution]:
    """Warn where a set-up lies outside the session."""
    start, end = scene.span
    first, last = clock_in(start, scene.zone), clock_in(end, scene.zone)
    for one in scene.set_ups:
        if one.facts.starts_at < start or one.facts.ends_at > end:
            yield Caution(
                title=f"Set-up {one.facts.number} is outside the session",
                sentence=(
                    f"The session runs from {first} to {last}. Move the set-up or "
                    "the session."
                ),
                set_up=one.facts.number,
            )


@rule("access-begins", "the place's own entry: access from")
def access_begins(scene: Scene) -> Iterator[Caution]:
    """Warn of a session that starts before the place opens."""
    opens = scene.access_from
    start = scene.span[0].astimezone(scene.zone)
    if opens is not None and start.time() < opens:
        yield Caution(
            title="The session starts before access begins",
            sentence=(
                f"Access begins at {opens:%H:%M}, the session at {start:%H:%M}. Start "
                "later, or ask to be let in sooner."
            ),
        )


@rule("access-ends", "the place's own entry: access until")
def access_ends(scene: Scene) -> Iterator[Caution]:
    """Warn of the first set-up that runs past the place's closing."""
    until, zone = scene.access_until, scene.zone
    if until is None:
        return
    for one in scene.set_ups:
        end = one.facts.ends_at.astimezone(zone)
        if (
            end.time() > until
            and end.date() == one.facts.starts_at.astimezone(zone).date()
        ):
            yield Caution(
                title=f"Access ends before set-up {one.facts.number} is over",
                sentence=(
                    f"Access ends at {until:%H:%M}, the set-up at {end:%H:%M}. Move "
                    "cars and heavy kit out before, or ask for longer."
                ),
                set_up=one.facts.number,
            )
            return
