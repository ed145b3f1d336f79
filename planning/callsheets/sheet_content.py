"""From a booking to what its call sheet says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from jobs.bookings.models import Booking
from planning.callsheets.people import people_of
from planning.callsheets.printed import (
    Pair,
    PrintedCallSheet,
    PrintedSetUp,
)
from planning.callsheets.quarter_table import quarter_table
from planning.callsheets.who import who_lines
from planning.checklists.models import Section
from planning.checklists.queries import checklist_of
from planning.light.illuminance import Sky
from planning.shoots.charts.light_chart import ChartLook, light_chart
from planning.shoots.charts.skyline_chart import SkylineLook, skyline_chart
from planning.shoots.models import ShootPlan
from planning.shoots.planned import PlannedSetUp, PlannedShoot
from planning.shoots.queries import fallbacks, planned_shoot
from planning.shoots.shown import LightRow, light_rows, shown_set_up
from planning.shoots.words import fallback_words, signed
from studio.profile.models import StudioProfile
from studio.timespan import clock_words
from studio.wording import day_short, long_date

CHART = ChartLook(width=760.0, plot_height=176.0, type_size=13.8)
LOW_CHART = replace(CHART, plot_height=150.0)
LOWEST_CHART = replace(CHART, plot_height=140.0, dials=False)
SKYLINE = SkylineLook(width=760.0, height=150.0, type_size=13.8)
LOW_SKYLINE = replace(SKYLINE, height=125.0)
FEW = 3
"""So many set-ups leave the charts their full height."""
NEAR = timedelta(minutes=30)
"""The sun's leaving matters up to so long after the wrap; common practice."""


def printed_call_sheet(
    booking: Booking, *, version: int, at: datetime
) -> PrintedCallSheet:
    """Return what the call sheet of a booking says, printed at a moment."""
    shoot = planned_shoot(booking)
    zone, place = booking.place.zone, booking.place
    rows = light_rows(shoot)
    is_long = len(shoot.set_ups) > FEW
    return PrintedCallSheet(
        studio_name=str(StudioProfile.load()),
        job_number=booking.job.number,
        version=version,
        title=booking.job.title,
        day=long_date(booking.local_start.date()),
        facts=tuple(_facts(booking, shoot)),
        place=tuple(_place(booking)),
        access=tuple(_access(booking, shoot)),
        rain=_joined(place.rain_plan, booking.weather_decision),
        people=people_of(booking),
        chart=light_chart(shoot, LOW_CHART if is_long else CHART),
        chart_low=light_chart(shoot, LOWEST_CHART),
        set_ups=_set_ups(shoot, zone),
        cautions=tuple(_cautions(booking, shoot)),
        notes=_notes(booking),
        who=who_lines(booking),
        skyline=skyline_chart(shoot, LOW_SKYLINE if is_long else SKYLINE),
        skyline_title=f"Sun along the skyline, seen from {place.name}",
        light_table=quarter_table(rows),
        light_table_title=_table_title(rows),
        light=tuple(_light_row(row) for row in rows),
        kit=_kit(booking, shoot),
        readings=tuple(_reading(one, zone) for one in shoot.set_ups),
        foot=foot_words(booking, shoot),
        printed=f"Printed {_stamp(at.astimezone(zone))}",
    )


def foot_words(booking: Booking, shoot: PlannedShoot) -> str:
    """Return for where and how far the light of a plan is to be trusted."""
    where = booking.place.coordinates_words
    if shoot.sky is Sky.CLEAR:
        good = "good to ⅓ stop (1 stop with the sun under 5°)"
        return f"Clear-sky model for {where}, {good}. Take readings."
    good = "real cloud may be a stop either side"
    return f"Model of {shoot.sky_words} for {where}; {good}. Take readings."


def near_end(shoot: PlannedShoot, at: datetime | None) -> bool:
    """Say whether a moment falls into a session or shortly after it."""
    return at is not None and shoot.starts_at <= at <= shoot.ends_at + NEAR


def clock(at: datetime, zone: ZoneInfo) -> str:
    """Return the time by the clock of the place."""
    return clock_words(at.astimezone(zone))


def _facts(booking: Booking, shoot: PlannedShoot) -> Iterator[Pair]:
    zone = booking.place.zone
    first = min((one.facts.starts_at for one in shoot.set_ups), default=None)
    yield "On site", clock(booking.on_site_at, zone)
    yield "First frame", clock(first or booking.starts_at, zone)
    lost = shoot.lost
    if lost and lost.behind and near_end(shoot, lost.earliest_at):
        label = "Sun lost about, skyline est." if lost.estimated else "Sun lost"
        span = clock(lost.earliest_at, zone)
        if not lost.is_sharp:
            span += f"–{clock(lost.latest_at, zone)}"
        yield label, span
    if hours := booking.place.access_hours:
        label, _, rest = hours.partition(" ")
        is_one = label in {"from", "until"}
        yield (f"Access {label}", rest) if is_one else ("Access", hours)
    yield _sun_fact(shoot, zone)
    end, start = booking.local_end, booking.local_start
    wrap = "Wrap" if end.date() == start.date() else f"Wrap, {day_short(end)}"
    yield wrap, clock(booking.ends_at, zone)


def _sun_fact(shoot: PlannedShoot, zone: ZoneInfo) -> Pair:
    day = shoot.light.day
    middle = shoot.starts_at + (shoot.ends_at - shoot.starts_at) / 2
    events = [("Sunrise", day.sunrise), ("Sunset", day.sunset)]
    known = [(abs(at - middle), name, at) for name, at in events if at]
    if known:
        _, name, at = min(known)
        return name, clock(at, zone)
    return ("Sun", "all day") if day.sun_state == "always up" else ("Sun", "down")


def _place(booking: Booking) -> Iterator[Pair]:
    place = booking.place
    address = ", ".join(
        line.strip(" ,") for line in place.address.splitlines() if line.strip()
    )
    where = ", ".join(part for part in (place.name, address) if part)
    told = (
        ("Where", where),
        ("Meeting point", place.meeting_point),
        ("Parking", place.parking),
        ("Power", place.power),
    )
    for label, words in told:
        if said := _joined(words):
            yield label, said


def _access(booking: Booking, shoot: PlannedShoot) -> Iterator[Pair]:
    place = booking.place
    if place.access:
        yield "", _joined(place.access)
    if place.access_from:
        opens = f"{place.access_from:%H:%M}"
        early = f"{booking.on_site_at.astimezone(place.zone):%H:%M}" < opens
        yield f"Begins at {opens}", ": after the crew’s call." if early else "."
    if place.access_until is None:
        return
    until = f"{place.access_until:%H:%M}"
    late = [
        one.facts.number
        for one in shoot.set_ups
        if f"{one.facts.ends_at.astimezone(place.zone):%H:%M}" > until
        and one.facts.ends_at.astimezone(place.zone).date()
        == booking.local_start.date()
    ]
    yield f"Ends at {until}", f": before set-up {late[0]} is over." if late else "."


def _set_ups(shoot: PlannedShoot, zone: ZoneInfo) -> tuple[PrintedSetUp, ...]:
    return tuple(
        replace(_set_up(one, zone), otherwise=fallback_words(other))
        for one, other in zip(shoot.set_ups, fallbacks(shoot), strict=True)
    )


def _set_up(one: PlannedSetUp, zone: ZoneInfo) -> PrintedSetUp:
    shown = shown_set_up(one)
    note = shown.note.rstrip(". ")
    return PrintedSetUp(
        number=shown.number,
        start=clock(shown.starts_at, zone),
        end=clock(shown.ends_at, zone),
        minutes=shown.minutes,
        name=shown.name,
        note=f"{note}. {shown.light_words}." if note else f"{shown.light_words}.",
        settings=shown.settings,
        beside=", ".join(part for part in (shown.beside, shown.range_words) if part),
        why=_capital(shown.brief),
        dial=shown.dial,
        key=shown.pk,
    )


def _cautions(booking: Booking, shoot: PlannedShoot) -> Iterator[Pair]:
    before = booking.on_site_at.astimezone(booking.place.zone).utcoffset()
    after = booking.local_end.utcoffset()
    if before != after and before is not None and after is not None:
        way = "back" if after < before else "forward"
        minutes = abs(int((after - before).total_seconds() // 60))
        yield (
            f"The clocks go {way} by {minutes} minutes during this session.",
            "Times are by the clock on the wall; count minutes, not hours.",
        )
    for one in shoot.cautions:
        yield f"{one.title.rstrip('.')}.", one.sentence


def _notes(booking: Booking) -> str:
    plan = ShootPlan.objects.filter(booking=booking).first()
    return plan.notes.strip() if plan else ""


def _kit(
    booking: Booking, shoot: PlannedShoot
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    groups = checklist_of(booking, shoot).groups
    return tuple(
        (group.title, tuple(line.words for line in group.lines if not line.no_longer))
        for group in groups
        if group.section != Section.BEFORE
    )


def _table_title(rows: tuple[LightRow, ...]) -> str:
    quarter = timedelta(minutes=15)
    if len(rows) > 1 and rows[1].at - rows[0].at <= quarter:
        return "If the plan slips: light every quarter of an hour"
    return "If the plan slips: light through the session"


def _light_row(row: LightRow) -> tuple[str, ...]:
    words = (row.azimuth, row.height, row.sun, row.shade, row.overcast)
    return clock_words(row.at), *words


def _reading(one: PlannedSetUp, zone: ZoneInfo) -> tuple[int, str]:
    facts, suggestion = one.facts, one.suggestion
    if one.is_flash_lit and suggestion:
        words = f"Flash: {suggestion.f_number.nominal}, {suggestion.iso.nominal}"
        return facts.number, words
    middle = (one.start.exposure_value + one.end.exposure_value) / 2
    return facts.number, f"EV {signed(middle)} at {clock(facts.middle_at, zone)}"


def _joined(*parts: str) -> str:
    """Return people's sentences one after the other, each with its full stop."""
    said = [" ".join(part.split()) for part in parts]
    ended = [one if one[-1] in ".!?:" else f"{one}." for one in said if one]
    return " ".join(ended)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _stamp(local: datetime) -> str:
    return f"{local.day} {local:%b %Y, %H:%M}"
