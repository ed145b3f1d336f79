"""The demo's people: contacts, sitters, and what some of them allow."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from jobs.clients.models import Contact
from jobs.clients.operations import list_contacts
from jobs.releases.models import How, Use
from jobs.releases.operations import (
    Asked,
    Signature,
    SitterDetails,
    add_sitter,
    make_release,
    note_picture_use,
    sign_release,
    withdraw_use,
)
from studio.demo import Scenery

LISTED_ON: Final = -52
TAKEN_BACK_ON: Final = -2
SITTERS: Final = {
    "edric": SitterDetails(
        name="Edric Lowmoor",
        is_child=True,
        guardian_name="Isolde Lowmoor",
        email="isolde@lowmoor.example",
        phone="01632 960152",
        notes="Nine, likes to be asked first.",
    ),
    "isolde": SitterDetails(
        name="Isolde Lowmoor", email="isolde@lowmoor.example", phone="01632 960152"
    ),
}


def tell_of_people(scenery: Scenery) -> None:
    """List contacts and sitters, sign releases, and take one use back."""
    scenery.then(LISTED_ON, "11:00", lambda at: _list(scenery, at))
    scenery.then(LISTED_ON + 2, "18:30", lambda at: _sign(scenery, at))
    scenery.then(LISTED_ON + 9, "09:15", lambda at: _show(scenery, at))
    scenery.then(TAKEN_BACK_ON, "20:05", lambda at: _take_back(scenery, at))


def _list(scenery: Scenery, at: datetime) -> None:
    rows, jory = scenery.rows, scenery.rows["jory"]
    contacts = [
        Contact(name="Ansel Dray", role="accounts", phone="01632 960166"),
        Contact(name="Mab Kestle", role="workshop door, from seven"),
    ]
    list_contacts(client_id=rows["client.kestle"].pk, contacts=contacts, by=jory, at=at)
    for key, details in SITTERS.items():
        client = rows["client.lowmoor"]
        made = add_sitter(client=client, details=details, by=jory, at=at)
        rows[f"sitter.{key}"] = made
        uses = (Use.PORTFOLIO, Use.SOCIAL)
        until = scenery.moment(2 * 365).date() if made.is_child else None
        asked = Asked(uses=uses, until_on=until, limits="First names only.")
        rows[f"release.{key}"] = make_release(
            sitter_id=made.pk, asked=asked, by=jory, at=at
        )


def _sign(scenery: Scenery, at: datetime) -> None:
    for key in SITTERS:
        signature = Signature(
            name="Isolde Lowmoor",
            how=How.PAGE,
            signed_at=at,
            network_address="198.51.100.24",
        )
        release = scenery.rows[f"release.{key}"]
        sign_release(release_id=release.pk, signature=signature, by=None, at=at)


def _show(scenery: Scenery, at: datetime) -> None:
    for key, use, where in (
        ("edric", Use.SOCIAL, "The kite picture, in the week’s post"),
        ("isolde", Use.PORTFOLIO, "Families page, third row"),
    ):
        allowed = scenery.rows[f"release.{key}"].uses.get(use=use)
        maren = scenery.rows["maren"]
        note_picture_use(
            use_id=allowed.pk, where=where, used_on=at.date(), by=maren, at=at
        )


def _take_back(scenery: Scenery, at: datetime) -> None:
    allowed = scenery.rows["release.edric"].uses.get(use=Use.SOCIAL)
    withdraw_use(use_id=allowed.pk, words="On the private page", by=None, at=at)
