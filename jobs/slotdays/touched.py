"""What moving a session or calling it off touches of its sittings, and what follows."""

from __future__ import annotations

from datetime import datetime, timedelta

from jobs.bookings.models import Booking
from jobs.slotdays.letters import News, tell_sitter, when_words
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.queries import day_of
from jobs.slotdays.rows import STAYS_OPEN, SlotDayError, page_of
from studio.effects import (
    Change,
    Effect,
    Weight,
    follows_a_move,
    follows_an_end,
    minds_new_times,
    touches,
)
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.people.models import Person
from studio.timespan import TimeSpan


@touches(action="slot_day.edit", order=30)
def times_given(change: Change) -> list[Effect]:
    """Tell how many have a time, who is written to, and who has no room any more."""
    day = day_of(change.booking)
    taken = _taken(day) if day else []
    if day is None or not taken:
        return []
    found = [
        Effect(
            title="Sittings",
            words=_told_words(taken, change),
            url=day.get_absolute_url(),
            verb="The times",
        )
    ]
    if change.starts_at and change.ends_at:
        session = TimeSpan(change.starts_at, change.ends_at)
        if words := _no_room(taken, session, change.shift):
            found.append(Effect(title="No room", words=words, weight=Weight.STOPS))
    return found


@follows_a_move
def take_sittings_along(
    booking: Booking, shift: timedelta, by: Person, at: datetime
) -> None:
    """Move the times along, drop free ones without room, and write to the others."""
    day = day_of(booking)
    if day is None:
        return
    if words := _no_room(_taken(day), booking.span, shift):
        raise SlotDayError(words)
    _shift(day, shift)
    outside = [
        one.pk
        for one in day.sittings.filter(job__isnull=True)
        if not booking.span.contains(one.span)
    ]
    day.sittings.filter(pk__in=outside).delete()
    _keep_links(day)
    told = _tell(day, "moved", at=at) if shift else 0
    record(booking, "sittings moved along", by=by, at=at, data={"told": told})


@follows_an_end
def tell_of_end(booking: Booking, stands: bool, by: Person, at: datetime) -> None:
    """Write to all who have a time that the day is off, or that it stands again."""
    day = day_of(booking)
    if day is None:
        return
    told = _tell(day, "stands" if stands else "off", at=at)
    record(booking, "sitters written to", by=by, at=at, data={"told": told})


@minds_new_times
def refuse_beside_sittings(booking: Booking) -> None:
    """Refuse new times by the way: a move takes the sittings along and tells them."""
    day = day_of(booking)
    if day and day.sittings.exists():
        raise SlotDayError(
            "This session is offered in sittings. Use “Move” on the job’s page: it "
            "takes the times along, and writes to all who have one."
        )


def _told_words(taken: list[Sitting], change: Change) -> str:
    have = f"{len(taken)} {'person has' if len(taken) == 1 else 'people have'} a time. "
    unreached = [_name(one) for one in taken if not _mail(one)]
    ring = f" Ring {', '.join(unreached)}: no mail reaches them." if unreached else ""
    if change.is_off:
        return (
            f"{have}They are written to. Their jobs stay open: see to what they paid."
            f"{ring}"
        )
    return f"{have}All times move along, and they are written to.{ring}"


def _no_room(taken: list[Sitting], session: TimeSpan, shift: timedelta) -> str:
    """Name the taken times that a session with other times has no room for."""
    out = [
        f"{_name(one)} ({when_words(one)})"
        for one in taken
        if not session.contains(one.span.shifted(shift))
    ]
    return f"No room any more for {', '.join(out)}. Move or free them." if out else ""


def _shift(day: SlotDay, shift: timedelta) -> None:
    """Move each time, the foremost first: no two rows share a time on the way."""
    day.closes_at += shift
    day.save(update_fields=["closes_at"])
    rows = list(day.sittings.order_by("starts_at"))
    for row in reversed(rows) if shift > timedelta() else rows:
        row.starts_at, row.ends_at = row.starts_at + shift, row.ends_at + shift
        row.save(update_fields=["starts_at", "ends_at"])


def _keep_links(day: SlotDay) -> None:
    """Let private pages last until the day is over, however late it is now."""
    until = day.booking.ends_at + STAYS_OPEN
    jobs = [one.job_id for one in _taken(day) if one.job_id]
    pages = PrivateLink.objects.of(LinkPurpose.SLOT_DAY, day.pk)
    pages |= PrivateLink.objects.filter(purpose=LinkPurpose.SITTING, object_id__in=jobs)
    pages.filter(revoked_at__isnull=True, expires_at__lt=until).update(expires_at=until)


def _tell(day: SlotDay, news: News, *, at: datetime) -> int:
    return sum(
        tell_sitter(one, page_of(one, at=at), news=news, at=at) for one in _taken(day)
    )


def _taken(day: SlotDay) -> list[Sitting]:
    taken = list(day.sittings.taken().select_related("job__client"))
    for one in taken:
        one.slot_day = day
    return taken


def _name(one: Sitting) -> str:
    return one.job.client.name if one.job else ""


def _mail(one: Sitting) -> str:
    return one.job.client.email if one.job else ""
