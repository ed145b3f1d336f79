"""Who is rung about a session, and who gets which paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from jobs.bookings.models import Attendee, Booking, Part
from jobs.bookings.wanted import guests_of
from jobs.bookings.wanted import people_of as crew_wanted
from planning.callsheets.printed import PrintedPerson
from studio.people.models import Person
from studio.wording import phone_words


class Paper(StrEnum):
    """Which paper somebody gets."""

    SHEET = "Call sheet"
    SESSION = "Your session"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipient:
    """One address that gets one paper."""

    name: str
    address: str
    paper: Paper


def crew_of(booking: Booking) -> list[Person]:
    """Return the studio's people of a session; the job's owner where none is named."""
    return crew_wanted(booking) or [booking.job.owner]


def people_of(booking: Booking) -> tuple[PrintedPerson, ...]:
    """Return everybody with their numbers: crew, client, sitters, the place's contact.

    A sitter without a number is reached through the client.
    """
    listed = guests_of(booking)
    client = _client_line(booking, listed)
    via = f"via {client.name.split()[0]}" if client.phone and client.name else "–"
    people = [_of_person(person) for person in crew_of(booking)]
    people += [_of_attendee(one, "–") for one in _having(listed, Part.CREW)]
    if not _having(listed, Part.CLIENT):
        people.append(client)
    people += [_of_attendee(one, via) for one in _ordinary(listed)]
    return (*people, *_contacts(booking, listed))


def recipients_of(booking: Booking) -> tuple[Recipient, ...]:
    """Return who gets which paper: one for each address, the crew's first.

    An address that belongs to the crew gets the crew's paper only.
    """
    found: dict[str, Recipient] = {}
    for one in (*_crew_addresses(booking), *_client_addresses(booking)):
        if one.address:
            found.setdefault(one.address.lower(), one)
    return tuple(found.values())


def unreachable_of(booking: Booking) -> tuple[str, ...]:
    """Return the names of the people whose phone number nobody has written down."""
    return tuple(one.name for one in people_of(booking) if one.phone == "–")


def _crew_addresses(booking: Booking) -> Iterator[Recipient]:
    for person in crew_of(booking):
        yield Recipient(name=str(person), address=person.email, paper=Paper.SHEET)
    for one in _having(guests_of(booking), Part.CREW):
        yield Recipient(name=one.name, address=one.email, paper=Paper.SHEET)


def _client_addresses(booking: Booking) -> Iterator[Recipient]:
    listed = guests_of(booking)
    client = booking.job.client
    if not any(one.email for one in _having(listed, Part.CLIENT)):
        name, address = client.addressee, client.email
        yield Recipient(name=name, address=address, paper=Paper.SESSION)
    for one in _ordinary(listed):
        yield Recipient(name=one.name, address=one.email, paper=Paper.SESSION)


def _having(listed: list[Attendee], part: Part) -> list[Attendee]:
    return [one for one in listed if one.part == part]


def _ordinary(listed: list[Attendee]) -> list[Attendee]:
    return [*_having(listed, Part.CLIENT), *_having(listed, Part.SITTER)]


def _client_line(booking: Booking, listed: list[Attendee]) -> PrintedPerson:
    client = booking.job.client
    for one in _having(listed, Part.CLIENT):
        if one.phone:
            return _of_attendee(one, "–")
    return PrintedPerson(
        name=client.addressee, role="client", phone=phone_words(client.phone) or "–"
    )


def _of_person(person: Person) -> PrintedPerson:
    role = "photographer" if person.is_owner else "planner"
    if not (person.is_owner or person.is_planner):
        role = "crew"
    phone = phone_words(person.phone) or "–"
    return PrintedPerson(name=str(person), role=role, phone=phone)


def _of_attendee(one: Attendee, without: str) -> PrintedPerson:
    role = one.role or Part(one.part).label.lower()
    phone = phone_words(one.phone) or without
    return PrintedPerson(name=one.name, role=role, phone=phone)


def _contacts(booking: Booking, listed: list[Attendee]) -> Iterator[PrintedPerson]:
    places = _having(listed, Part.PLACE)
    for one in places:
        yield _of_attendee(one, "–")
    place = booking.place
    if place.contact_name and place.contact_name not in {one.name for one in places}:
        phone = phone_words(place.contact_phone) or "–"
        yield PrintedPerson(name=place.contact_name, role="place", phone=phone)
