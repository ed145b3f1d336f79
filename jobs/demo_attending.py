"""The demo's family: who is coming, told on the private page, and their groups."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from jobs.attending.answers import Draft
from jobs.attending.group_operations import add_suggested, keep_group, move_group
from jobs.attending.models import AgeUnit
from jobs.attending.operations import keep_answers, open_page
from jobs.attending.queries import standing
from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.operations import list_attendees
from studio.demo import Scenery

ASKED_ON: Final = -5
TOLD_ON: Final = -4
MILL: Final = "Mill Cottage"
ROW: Final = "Hollin Row"
NOTHING: Final[dict[str, Any]] = {
    "household": "",
    "age": None,
    "age_unit": AgeUnit.YEARS.value,
    "naps": "",
    "wears_glasses": False,
    "uses_wheelchair": False,
    "flash_sensitive": False,
    "not_shown": False,
}
FAMILY: Final[tuple[dict[str, Any], ...]] = (
    {"name": "Rafe Fenwarren", "household": MILL, "wears_glasses": True},
    {"name": "Ned Fenwarren", "household": MILL, "age": 6, "not_shown": True},
    {
        "name": "Bo Fenwarren",
        "household": MILL,
        "age": 10,
        "age_unit": AgeUnit.MONTHS.value,
        "naps": "12:00–13:30",
    },
    {
        "name": "Gran Hetty",
        "household": ROW,
        "wears_glasses": True,
        "uses_wheelchair": True,
    },
    {"name": "Grandad Amos", "household": ROW, "flash_sensitive": True},
)


def tell_of_who_comes(scenery: Scenery) -> None:
    """Ask the family in the wood who is coming, hear it, and list their groups."""
    scenery.then(ASKED_ON, "11:30", lambda at: _ask(scenery, at))
    scenery.then(TOLD_ON, "20:40", lambda at: _tell(scenery, at))
    scenery.then(TOLD_ON + 1, "09:20", lambda at: _group(scenery, at))


def _ask(scenery: Scenery, at: datetime) -> None:
    rows, jory = scenery.rows, scenery.rows["jory"]
    booking, client = rows["booking.fenwarren"], rows["client.fenwarren"]
    oriel = Attendee(
        name=client.name, part=Part.CLIENT, phone=client.phone, email=client.email
    )
    list_attendees(booking_id=booking.pk, attendees=[oriel], by=jory, at=at)
    open_page(booking_id=booking.pk, by=jory, at=at)


def _tell(scenery: Scenery, at: datetime) -> None:
    booking: Booking = scenery.rows["booking.fenwarren"]
    shown = standing(booking)
    draft = Draft(
        session={"dog_comes": True, "guardian_name": "Oriel and Rafe"},
        people={
            row: {**values, "household": MILL} for row, values in shown.people.items()
        },
        new=tuple(NOTHING | one for one in FAMILY),
    )
    keep_answers(booking_id=booking.pk, base=shown, draft=draft, by=None, at=at)


def _group(scenery: Scenery, at: datetime) -> None:
    """Take what is suggested, and add what Gran asked for, second of all."""
    jory = scenery.rows["jory"]
    booking = Booking.objects.get(pk=scenery.rows["booking.fenwarren"].pk)
    add_suggested(booking=booking, by=jory, at=at)
    with_gran = booking.attendees.filter(
        name__in=("Gran Hetty", "Ned Fenwarren", "Bo Fenwarren")
    )
    row = keep_group(
        booking=booking,
        group=None,
        name="Gran with the boys",
        member_ids=with_gran.values_list("pk", flat=True),
        by=jory,
        at=at,
    )
    move_group(group=row, by_one=2 - booking.group_shots.count(), by=jory, at=at)
