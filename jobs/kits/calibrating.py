"""What one well-exposed frame shows of a flash, or of what stands before it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import datetime

from django.db import transaction

from jobs.kits.figures import plain
from jobs.kits.models import KitCategory, KitItem
from planning.light.flash import (
    guide_number_from_frame_m,
    guide_number_stops,
    loss_from_frame_stops,
)
from studio.errors import DomainError
from studio.history.operations import record
from studio.people.models import Person

LEAST_GUIDE_M, MOST_GUIDE_M = 1.0, 500.0
LEAST_LOSS, MOST_LOSS = -3.0, 16.0
"""A reflector may gather light, so a loss may be a gain."""


class UnlikelyFrameError(DomainError):
    """A test frame that no flash could have made: a figure was misread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofFrame:
    """One frame lit by one flash alone, whose f-number was right."""

    f_number: float
    distance_m: float
    power: float
    iso: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What is kept of an item: the figure, and how it differs from the stated one."""

    item: KitItem
    words: str


@transaction.atomic
def keep_guide_number(
    *,
    flash_id: int,
    frame: ProofFrame,
    modifier: KitItem | None,
    by: Person,
    at: datetime,
) -> KitItem:
    """Keep a flash's real guide number, from a test frame. Raises UnlikelyFrameError.

    What the modifier and the unit itself are known to take is counted.
    """
    flash = KitItem.objects.select_for_update().get(pk=flash_id)
    lost = flash.real_loss_stops + (modifier.real_loss_stops if modifier else 0.0)
    guide = guide_number_from_frame_m(**asdict(frame), loss_stops=lost)
    if not LEAST_GUIDE_M <= guide <= MOST_GUIDE_M:
        raise UnlikelyFrameError(
            f"By these figures its guide number would be {guide:,.1f} m. Look at the "
            "distance, the power and the f-number again."
        )
    flash.measured_guide_number_m = round(guide, 1)
    flash.save(update_fields=["measured_guide_number_m"])
    data = asdict(frame) | {
        "guide_number_m": flash.measured_guide_number_m,
        "through": str(modifier or ""),
    }
    record(flash, "guide number measured", by=by, at=at, data=data)
    return flash


@transaction.atomic
def keep_loss(
    *, flash_id: int, frame: ProofFrame, modifier_id: int, by: Person, at: datetime
) -> KitItem:
    """Keep what a modifier really takes, from a test frame. Raises UnlikelyFrameError.

    The flash counts with its measured guide number, or else with the maker's.
    """
    flash = KitItem.objects.get(pk=flash_id)
    modifier = KitItem.objects.select_for_update().get(pk=modifier_id)
    if flash.real_guide_number_m is None:
        raise UnlikelyFrameError(
            "The flash has no guide number yet: shoot a frame with the bare flash "
            "first, or write the maker’s figure."
        )
    whole = loss_from_frame_stops(
        guide_number_m=flash.real_guide_number_m, **asdict(frame)
    )
    loss = whole - flash.real_loss_stops
    if not LEAST_LOSS <= loss <= MOST_LOSS:
        raise UnlikelyFrameError(
            f"By these figures {modifier} would take {loss:.1f} stops. Look at the "
            "distance, the power and the f-number again."
        )
    modifier.measured_loss_stops = round(loss, 2)
    modifier.save(update_fields=["measured_loss_stops"])
    data = asdict(frame) | {
        "loss_stops": modifier.measured_loss_stops,
        "flash": str(flash),
    }
    record(modifier, "loss measured", by=by, at=at, data=data)
    return modifier


@transaction.atomic
def drop_measured(*, item_id: int, by: Person, at: datetime) -> KitItem:
    """Go back to the stated figure of an item; the journal keeps both."""
    item = KitItem.objects.select_for_update().get(pk=item_id)
    dropped = {
        name: value
        for name in ("measured_guide_number_m", "measured_loss_stops")
        if (value := getattr(item, name)) is not None
    }
    if dropped:
        item.measured_guide_number_m = item.measured_loss_stops = None
        item.save(update_fields=["measured_guide_number_m", "measured_loss_stops"])
        record(item, "measured figure taken back", by=by, at=at, data=dropped)
    return item


def measured_of(flash: KitItem) -> tuple[Found, ...]:
    """Return what was measured: of the flash, and of the modifiers of the kit."""
    modifiers = KitItem.objects.in_use().of(KitCategory.MODIFIER)
    known = modifiers.filter(measured_loss_stops__isnull=False)
    return (*_found(flash), *(one for item in known for one in _found(item)))


def _found(item: KitItem) -> Iterator[Found]:
    if item.category == KitCategory.FLASH and item.measured_guide_number_m:
        yield Found(item=item, words=guide_words(item))
    if item.category == KitCategory.MODIFIER and item.measured_loss_stops is not None:
        yield Found(item=item, words=loss_words(item))


def guide_words(flash: KitItem) -> str:
    """Return a measured guide number beside the maker's; nothing if none is."""
    yours, makers = flash.measured_guide_number_m, flash.guide_number_m
    if yours is None:
        return ""
    if makers is None:
        return f"guide number {plain(yours)} m by your test frame"
    stops = guide_number_stops(measured_m=yours, stated_m=makers)
    return f"maker’s {plain(makers)}, yours {plain(yours)}: {_difference(stops)}"


def loss_words(modifier: KitItem) -> str:
    """Return a measured loss beside the one that was typed; nothing if none is."""
    yours, stated = modifier.measured_loss_stops, modifier.loss_stops
    if yours is None:
        return ""
    if yours < 0.0:
        return f"gives {-yours:.1f} stops by your test frame"
    before = "" if stated is None else f", {stated:.1f} was written before"
    return f"takes {yours:.1f} stops by your test frame{before}"


def _difference(stops: float) -> str:
    size = abs(stops)
    if size < 0.05:
        return "the same"
    noun = "stop" if size < 1.05 else "stops"
    return f"{size:.1f} {noun} {'more' if stops > 0 else 'less'}"
