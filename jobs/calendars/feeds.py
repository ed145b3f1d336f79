"""A person's feed: opening it, giving it a new address, and keeping it up to date."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from django.db import transaction

from jobs.bookings.models import Booking, Reservation
from jobs.calendars.events import EventRow, Firmness, Method, Told, write_calendar
from jobs.calendars.models import CalendarFeed, FeedEntry
from jobs.calendars.telling import told_to_crew
from studio.history.operations import record
from studio.links.models import LinkPurpose, PrivateLink
from studio.links.operations import make_link, revoke_links
from studio.people.models import Person

LASTS: Final = timedelta(days=3650)
PAST_KEPT: Final = timedelta(days=45)
CANCELLED_KEPT: Final = timedelta(days=30)


@transaction.atomic
def open_feed(
    *, person: Person, detail: str, alarm_minutes: int | None, at: datetime
) -> CalendarFeed:
    """Open a person's feed, or change what it tells; its address stays."""
    feed = CalendarFeed.objects.filter(person=person).first()
    is_new = feed is None
    if feed is None:
        feed = CalendarFeed(person=person, opened_at=at)
    feed.detail, feed.alarm_minutes = detail, alarm_minutes
    feed.save()
    if live_link(feed, at=at) is None:
        _give_link(feed, at)
    record(feed, "opened" if is_new else "changed", by=person, at=at)
    refresh_feeds(at=at)
    return feed


@transaction.atomic
def renew_feed(*, person: Person, at: datetime) -> CalendarFeed:
    """Give a feed a new address; the old one opens nothing from now on."""
    feed = CalendarFeed.objects.select_for_update().get(person=person)
    _revoke(feed, at)
    _give_link(feed, at)
    record(feed, "renewed", by=person, at=at)
    return feed


@transaction.atomic
def close_feed(*, person: Person, at: datetime) -> CalendarFeed:
    """Take a feed's address back, until the person opens it again."""
    feed = CalendarFeed.objects.select_for_update().get(person=person)
    _revoke(feed, at)
    record(feed, "closed", by=person, at=at)
    return feed


def live_link(feed: CalendarFeed, *, at: datetime) -> PrivateLink | None:
    """Return the link that opens a feed, if one does."""
    links = PrivateLink.objects.of(LinkPurpose.CALENDAR, feed.pk)
    return links.live(at=at).order_by("-pk").first()


@transaction.atomic
def refresh_feeds(*, at: datetime) -> int:
    """Bring every feed up to date; return how many entries changed.

    Safe to run twice: an entry that says what it should is left as it is.
    """
    feeds = list(CalendarFeed.objects.select_for_update().order_by("pk"))
    by_person = {feed.person_id: feed for feed in feeds}
    standing = {
        (entry.person_id, entry.booking_id): entry
        for entry in FeedEntry.objects.filter(person__in=by_person)
    }
    changed = 0
    for booking, person_id in _sessions(by_person, at):
        told = told_to_crew(booking, by_person[person_id])
        entry = standing.pop((person_id, booking.pk), None)
        entry = entry or FeedEntry(person_id=person_id, booking=booking)
        changed += _tell(entry, told, at)
    changed += sum(_take_back(entry, at) for entry in standing.values())
    return changed


def feed_events(feed: CalendarFeed) -> list[EventRow]:
    """Return the events of a feed, the earliest first. One query."""
    entries = FeedEntry.objects.filter(person_id=feed.person_id)
    return [
        EventRow(
            uid=str(entry.booking.uid),
            told=Told.from_json(entry.told),
            sequence=entry.sequence,
            changed_at=entry.changed_at,
        )
        for entry in entries.select_related("booking").order_by("ends_at", "pk")
    ]


def feed_file(feed: CalendarFeed, *, name: str) -> bytes:
    """Return a feed as its calendar program fetches it."""
    return write_calendar(feed_events(feed), method=Method.PUBLISH, name=name)


def _sessions(people: Iterable[int], at: datetime) -> Iterable[tuple[Booking, int]]:
    rows = Reservation.objects.filter(
        person__in=people,
        booking__isnull=False,
        holds=True,
        ends_at__gt=at - PAST_KEPT,
    )
    related = rows.select_related("booking__job__client", "booking__place")
    for row in related.order_by("starts_at", "pk"):
        if row.person_id and row.booking:
            yield row.booking, row.person_id


def _tell(entry: FeedEntry, told: Told, at: datetime) -> bool:
    kept = told.as_json()
    if entry.pk and entry.told == kept:
        return False
    if entry.pk:
        entry.sequence += 1
    entry.told, entry.changed_at, entry.ends_at = kept, at, told.ends_at
    entry.cancelled_at = at if told.firmness == Firmness.CANCELLED else None
    entry.save()
    return True


def _take_back(entry: FeedEntry, at: datetime) -> bool:
    """Tell an entry as cancelled whose session is the person's no more; for a time."""
    too_old = entry.ends_at < at - PAST_KEPT
    if too_old or (entry.cancelled_at and entry.cancelled_at < at - CANCELLED_KEPT):
        entry.delete()
        return False
    if entry.cancelled_at:
        return False
    told = Told.from_json(entry.told)
    return _tell(entry, replace(told, firmness=Firmness.CANCELLED), at)


def _give_link(feed: CalendarFeed, at: datetime) -> None:
    purpose = LinkPurpose.CALENDAR
    make_link(purpose=purpose, object_id=feed.pk, at=at, lasts=LASTS)


def _revoke(feed: CalendarFeed, at: datetime) -> None:
    revoke_links(purpose=LinkPurpose.CALENDAR, object_id=feed.pk, at=at)
