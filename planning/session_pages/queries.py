"""From a booking to what its client's page says."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from jobs.bookings.models import Booking
from planning.session_pages.printed import (
    Pair,
    PrintedSession,
    PrintedStep,
    PrintedStrip,
)
from planning.shoots.charts.strip import clock_minute, day_phases_of
from planning.shoots.choices import Light
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.queries import planned_shoot
from studio.profile.models import StudioProfile
from studio.scene.day_phases import Block
from studio.scene.day_strip import StripLook, day_strip
from studio.wording import long_date, phone_words

BE_THERE_BEFORE = timedelta(minutes=10)  # common practice, no source
STRIP = StripLook(width=476.0, height=17.0, hours=False)
SOON_AFTER = timedelta(minutes=30)


def printed_session(booking: Booking, *, at: datetime) -> PrintedSession:
    """Return what the client's page of a booking says, prepared at a moment."""
    shoot = planned_shoot(booking)
    studio, place = StudioProfile.load(), booking.place
    start = booking.local_start
    return PrintedSession(
        studio_name=str(studio),
        studio_lines=tuple(_studio_lines(studio)),
        for_whom=f"for {booking.job.client.name}",
        strip=_strip(booking, shoot),
        day=f"{start:%A} {start.day} {start:%B}",
        when=_when(booking),
        facts=(("Meet", _be_there(booking)), ("Session", _span(booking))),
        place=place.name,
        where=tuple(_where(booking)),
        steps_title=f"How the {_part_of_day(start)} goes",
        steps=tuple(_steps(booking, shoot)),
        light=_light(booking, shoot),
        wear=_lines(studio.wear_words),
        bring=_lines(studio.bring_words),
        getting_there=_said(place.parking),
        if_it_pours=_said(
            place.rain_plan, booking.weather_decision, studio.weather_words
        ),
        on_the_day=(studio.owner_name or str(studio), phone_words(studio.phone)),
        foot=_foot(booking, studio, at),
    )


def _studio_lines(studio: StudioProfile) -> Iterator[str]:
    if studio.address:
        yield ", ".join(line.strip(" ,") for line in studio.address.splitlines())
    contact = [part for part in (phone_words(studio.phone), studio.email) if part]
    if contact:
        yield ", ".join(contact)


def _strip(booking: Booking, shoot: PlannedShoot) -> PrintedStrip:
    zone, on = booking.place.zone, booking.local_start.date()
    first = clock_minute(booking.starts_at, on, zone)
    last = clock_minute(booking.ends_at, on, zone)
    block = Block(start_minute=first, end_minute=max(last, first + 1))
    day = day_phases_of(shoot.light.where, on, blocks=(block,))
    share = (first - day.first_minute) / (day.last_minute - day.first_minute)
    return PrintedStrip(
        drawing=day_strip(day, blocks=(block,), look=STRIP),
        daylight=_daylight(booking, shoot),
        booked=f"your session, {_span(booking)}",
        booked_share=share,
    )


def _daylight(booking: Booking, shoot: PlannedShoot) -> str:
    day, zone = shoot.light.day, booking.place.zone
    if day.sunrise and day.sunset:
        rise, set_ = day.sunrise.astimezone(zone), day.sunset.astimezone(zone)
        return f"Daylight {rise:%H:%M} to {set_:%H:%M}"
    if day.sun_state == "always up":
        return "Daylight all day and night"
    return "No sun that day" if day.sun_state == "always down" else "Daylight"


def _span(booking: Booking) -> str:
    start, end = booking.local_start, booking.local_end
    if start.date() == end.date():
        return f"{start:%H:%M} to {end:%H:%M}"
    return f"{start:%H:%M} to {end:%H:%M} on {end:%A}"


def _be_there(booking: Booking) -> str:
    at = booking.starts_at - BE_THERE_BEFORE
    return f"{at.astimezone(booking.place.zone):%H:%M}"


def _when(booking: Booking) -> str:
    words = f"{_span(booking)}. Please be there at {_be_there(booking)}."
    start, end = booking.local_start, booking.local_end
    if start.utcoffset() != end.utcoffset():
        words += " The clocks change that night; these are the times on the wall."
    return words


def _where(booking: Booking) -> Iterator[str]:
    place = booking.place
    address = ", ".join(
        line.strip(" ,") for line in place.address.splitlines() if line.strip()
    )
    if address:
        yield f"{address}."
    if place.meeting_point:
        yield f"Where we meet: {_said(place.meeting_point)}"


def _part_of_day(start: datetime) -> str:
    if 5 <= start.hour < 12:
        return "morning"
    if 12 <= start.hour < 17:
        return "afternoon"
    return "evening" if 17 <= start.hour < 22 else "night"


def _steps(booking: Booking, shoot: PlannedShoot) -> Iterator[PrintedStep]:
    zone = booking.place.zone
    yield PrintedStep(
        start=_be_there(booking),
        name="Hello",
        words="We meet, and you have time to settle in.",
    )
    for one in sorted(shoot.set_ups, key=lambda one: one.facts.starts_at):
        start = one.facts.starts_at.astimezone(zone)
        yield PrintedStep(
            start=f"{start:%H:%M}", name=one.facts.name, words=_step_words(one)
        )
    yield PrintedStep(
        start=f"{booking.local_end:%H:%M}", name="Done", words="Thank you, all of you."
    )


def _step_words(one: PlannedSetUp) -> str:
    words = {
        Light.OPEN_SKY: "out in the sun" if one.in_sun else "under the open sky",
        Light.OPEN_SHADE: "in soft shade",
        Light.WINDOW: "by a window",
        Light.FLASH: "with lamps of ours",
    }[one.facts.light]
    return f"About {one.facts.minutes} minutes, {words}."


def _light(booking: Booking, shoot: PlannedShoot) -> Pair:
    cloud = " Under cloud the light is soft, and we carry on."
    if shoot.set_ups and all(_is_lit_by_us(one) for one in shoot.set_ups):
        return "We bring the light", " or use a window, so the hour does not matter."
    lost, zone = shoot.lost, booking.place.zone
    if lost and _matters(shoot, lost.earliest_at):
        first = lost.earliest_at.astimezone(zone)
        last = lost.latest_at.astimezone(zone)
        when = (
            f"at {last:%H:%M}" if lost.is_sharp else f"about {first:%H:%M}–{last:%H:%M}"
        )
        if not lost.behind:
            return f"The sun sets {when}.", f" That is why we start on time.{cloud}"
        judged = " (its height is judged by eye)" if lost.estimated else ""
        behind = f", when it goes behind {_the(lost.behind)}{judged}."
        why = f"{behind} That is why we start on time.{cloud}"
        return f"The sun leaves us {when}", why
    return _steady_light(shoot, cloud)


def _steady_light(shoot: PlannedShoot, cloud: str) -> Pair:
    moments = shoot.light.moments([shoot.starts_at, shoot.ends_at])
    if all(moment.is_shining for moment in moments):
        return "The sun is up the whole time", f" if the sky is clear.{cloud}"
    if not any(moment.is_up for moment in moments):
        return "It will be dark out of doors;", " we bring the light that we need."
    return "The sun is low or hidden for part of the time;", " we plan for that."


def _matters(shoot: PlannedShoot, at: datetime) -> bool:
    return shoot.starts_at <= at <= shoot.ends_at + SOON_AFTER


def _is_lit_by_us(one: PlannedSetUp) -> bool:
    return one.facts.light in {Light.WINDOW, Light.FLASH}


def _the(name: str) -> str:
    return name if name.lower().startswith(("the ", "a ")) else f"the {name}"


def _foot(booking: Booking, studio: StudioProfile, at: datetime) -> str:
    prepared = long_date(at.astimezone(studio.zone).date()).partition(" ")[2]
    words = f"{booking.job.number}. Prepared {prepared}."
    phone = phone_words(studio.phone)
    return f"{words} If anything here is wrong, ring {phone}." if phone else words


def _lines(words: str) -> tuple[str, ...]:
    return tuple(line.strip(" -•*") for line in words.splitlines() if line.strip())


def _said(*parts: str) -> str:
    said = [" ".join(part.split()) for part in parts]
    return " ".join(one if one[-1] in ".!?:" else f"{one}." for one in said if one)
