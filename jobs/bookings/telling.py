"""What the people of the studio are written about their bookings."""

from __future__ import annotations

from datetime import datetime

from jobs.bookings.models import Booking
from jobs.bookings.words import clocks_of
from studio.mail.operations import Letter, write_message
from studio.people.models import Person
from studio.wording import day_date


def tell_of_lapse(booking: Booking, *, at: datetime) -> None:
    """Write to the crew, and to whoever answers, that a hold ran out and is free."""
    until = booking.held_until or at
    start = booking.local_start
    when = f"{day_date(start)}, {clocks_of(booking)}"
    for person in people_of(booking):
        write_message(
            occasion=f"hold lapsed:{booking.pk}:{until:%Y%m%d%H%M}:{person.pk}",
            about=booking,
            letter=Letter(
                address=person.email,
                recipient_name=str(person),
                subject=f"No longer held: {booking.job.title}",
                body=_lapse_words(booking, person, when),
            ),
            at=at,
        )


def people_of(booking: Booking) -> list[Person]:
    """Return whoever answers for the job and the crew, as far as mail reaches them."""
    crew = Person.objects.filter(reservations__booking=booking)
    owner = Person.objects.filter(pk=booking.job.owner_id)
    people = (crew | owner).filter(is_active=True).exclude(email="")
    return list(people.distinct().order_by("pk"))


def _lapse_words(booking: Booking, person: Person, when: str) -> str:
    return (
        f"Hello {person},\n\n"
        f"{booking.job.number} {booking.job.title}, {when}, {booking.place.name}, was "
        "pencilled in, and nobody confirmed it in time. Time, people and kit are free "
        "again. The session stays written down: pencil it in anew if the client still "
        "wants it.\n"
    )
