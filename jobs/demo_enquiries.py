"""The demo's enquiries by the form: one of somebody who is in the book already."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from jobs.enquiries.operations import Reply, Written, send_reply, take_written
from jobs.enquiries.queries import reply_text
from studio.demo import Scenery
from studio.profile.operations import change_profile

OPENED_ON: Final = -115
ABOVE: Final = (
    "Tell me a little about the people and the occasion. I answer myself, and I "
    "propose two dates with good light."
)
GUIDE: Final = (
    "A family session of an hour and a half is £260 with twelve finished pictures. "
    "Head shots are £140 for one person, £90 each from five people on. Prints and "
    "frames come on top, as many as you like, and you see every price beforehand."
)
TWICE: Final = Written(
    name="Mirren Pell",
    phone="01632 960163",
    when="a weekend before the holidays",
    what="The grandparents would like a picture with the children too.",
)
ASKED: Final = Written(
    name="O. Fenwarren",
    phone="01632 960162",
    email="oriel@fenwarren.example",
    when="spring",
    what="Another one in the wood, when the bluebells are out.",
)


def tell_of_enquiries(scenery: Scenery) -> None:
    """Open the form, take what was written by it, and answer one of the two."""
    scenery.then(OPENED_ON, "09:00", lambda at: _open(scenery, at))
    scenery.then(-3, "21:15", lambda at: _take(scenery, "again", TWICE, at))
    scenery.then(-2, "22:40", lambda at: _take(scenery, "bluebells", ASKED, at))
    scenery.then(-2, "22:55", lambda at: _answer(scenery, at))


def _open(scenery: Scenery, at: datetime) -> None:
    words = {"enquiry_words": ABOVE, "guide_words": GUIDE, "enquiry_form_open": True}
    change_profile(details=words, by=scenery.rows["maren"], at=at)


def _take(scenery: Scenery, key: str, written: Written, at: datetime) -> None:
    scenery.rows[f"job.{key}"] = take_written(written=written, at=at)


def _answer(scenery: Scenery, at: datetime) -> None:
    job, maren = scenery.rows["job.garrowby"], scenery.rows["maren"]
    reply = Reply(
        subject=f"Your enquiry: {job.title}",
        words=reply_text("both", job, at=at),
        nudge_on=scenery.moment(1).date(),
    )
    send_reply(job_id=job.pk, reply=reply, by=maren, at=at)
