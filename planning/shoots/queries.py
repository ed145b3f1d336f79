"""Light plans, worked out for pages, charts and papers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta

from jobs.bookings.models import Booking
from jobs.places.models import Place
from planning.light.illuminance import Sky
from planning.light.optics import field_of_view_deg
from planning.light.solve import Suggestion, suggest
from planning.shifts.models import LightShift
from planning.shifts.queries import shift_for, shift_words, shifts_of
from planning.shoots.cautions import cautions_for
from planning.shoots.choices import Light, Movement, Shade, SkyWord, Support
from planning.shoots.daylight import Daylight, Where, daylight
from planning.shoots.falloffs import falloff_of
from planning.shoots.fills import fill_of
from planning.shoots.levels import level_on, shifted
from planning.shoots.lighting import KIT_FIELDS, lighting_facts
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.planned import (
    Fallback,
    PlannedSetUp,
    PlannedShoot,
    SetUpFacts,
    short_words,
)
from planning.shoots.requests import request_for
from planning.shoots.rooms import window_sight
from planning.shoots.scenes import scene_of
from planning.sites.models import Site
from planning.sites.points import read_profile, read_seen
from planning.sites.skyline import read_skyline

SKIES = {
    SkyWord.CLEAR: Sky.CLEAR,
    SkyWord.BROKEN: Sky.PARTLY_CLOUDY,
    SkyWord.OVERCAST: Sky.OVERCAST,
    SkyWord.DARK: Sky.HEAVY_OVERCAST,
}
USUAL_SENSOR_WIDTH_MM = 36.0


def where_of(place: Place) -> Where:
    """Return a place as light sees it, its skyline among it."""
    site = Site.objects.filter(place=place).first() or Site(place=place)
    return Where(
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        time_zone=place.time_zone,
        skyline=read_skyline(site.skyline),
        profile=read_profile(site.profile),
        marks=read_seen(site.seen),
        estimated=site.estimated,
        ground_reflectance=site.ground_reflectance,
        ground=site.ground if site.pk else "",
    )


def planned_shoot(booking: Booking, *, sky: SkyWord | None = None) -> PlannedShoot:
    """Work out a booking's light plan, for its own sky or for another."""
    plan = ShootPlan.objects.filter(booking=booking).first()
    word = SkyWord(sky or (plan.sky if plan else SkyWord.CLEAR))
    return work_out(booking, rows_of(plan) if plan else [], word)


def work_out(booking: Booking, rows: Sequence[SetUp], word: SkyWord) -> PlannedShoot:
    """Work out set-ups in their order, saved or only tried out, under one sky."""
    light = daylight(where_of(booking.place), booking.starts_at, booking.ends_at)
    shifts = shifts_of(booking, word)
    set_ups = plan_set_ups(rows, light, SKIES[word], shifts)
    return PlannedShoot(
        booking_id=booking.pk,
        title=booking.job.title,
        place_name=booking.place.name,
        starts_at=booking.starts_at,
        ends_at=booking.ends_at,
        sky=SKIES[word],
        sky_words=word.label,
        light=light,
        lost=light.lost,
        rows=tuple(rows),
        shifts=shifts,
        set_ups=set_ups,
        cautions=cautions_for(scene_of(booking, light, set_ups, SKIES[word])),
    )


def plan_set_ups(
    rows: Iterable[SetUp],
    light: Daylight,
    sky: Sky,
    shifts: Sequence[LightShift] = (),
) -> tuple[PlannedSetUp, ...]:
    """Work out set-ups in their order: the light on each, and the settings."""
    return tuple(
        _plan(_facts(number, row), row, light, sky, shifts)
        for number, row in enumerate(rows, start=1)
    )


def other_sky(sky: Sky) -> SkyWord:
    """Return the sky to be ready for: overcast, or clear where that is planned."""
    closed = sky in {Sky.OVERCAST, Sky.HEAVY_OVERCAST}
    return SkyWord.CLEAR if closed else SkyWord.OVERCAST


def fallbacks(shoot: PlannedShoot) -> tuple[Fallback, ...]:
    """Return for each set-up the settings for the other sky, and what gives."""
    word = other_sky(shoot.sky)
    others = plan_set_ups(shoot.rows, shoot.light, SKIES[word])
    return tuple(
        _fallback(word, planned, other)
        for planned, other in zip(shoot.set_ups, others, strict=True)
    )


def _fallback(word: SkyWord, planned: PlannedSetUp, other: PlannedSetUp) -> Fallback:
    was, now = planned.suggestion, other.suggestion
    return Fallback(
        number=planned.facts.number,
        sky_words=word.label,
        suggestion=now,
        gives=what_gives(now, was),
        differs=was is None or now is None or now.settings != was.settings,
    )


def what_gives(now: Suggestion | None, was: Suggestion | None) -> str:
    """Return what settings break, or give up that other settings did not."""
    if now is None:
        return ""
    if now.broken is not None:
        return f"{now.broken.name} {short_words(now.broken)}"
    given = {one.name for one in was.gave_way} if was else set()
    more = [one.name.value for one in now.gave_way if one.name not in given]
    return f"gives up {' and '.join(more)}" if more else ""


def rows_of(plan: ShootPlan) -> list[SetUp]:
    """Return a plan's set-ups in their order, each with its kit."""
    rows = plan.set_ups.select_related(*KIT_FIELDS, "window__room")
    rows = rows.prefetch_related("window__room__windows")
    return list(rows.order_by("position", "pk"))


def _plan(
    facts: SetUpFacts,
    row: SetUp,
    light: Daylight,
    sky: Sky,
    shifts: Sequence[LightShift],
) -> PlannedSetUp:
    times = [facts.starts_at, facts.middle_at, facts.ends_at]
    first, middle, last = light.moments(times)
    shift = shift_for(
        shifts,
        pk=facts.pk,
        light=facts.light,
        starts_at=facts.starts_at,
        ends_at=facts.ends_at,
    )
    start = shifted(level_on(facts, row, first, light, sky), shift)
    end = shifted(level_on(facts, row, last, light, sky), shift)
    fill = fill_of(row, facts, middle, light, sky)
    suggestion, trouble = None, ""
    try:
        suggestion = suggest(request_for(row, start, end, fill))
    except ValueError as fault:
        trouble = f"The figures do not fit together: {fault}."
    return PlannedSetUp(
        facts=facts,
        start=start,
        end=end,
        sun_start=first,
        sun_middle=middle,
        sun_end=last,
        suggestion=suggestion,
        fill=fill,
        falloff=falloff_of(row, middle, light, sky),
        trouble=trouble,
        shift=shift,
        shift_words=shift_words(shift, light.where.zone) if shift else "",
    )


def _facts(number: int, row: SetUp) -> SetUpFacts:
    sensor = USUAL_SENSOR_WIDTH_MM
    if row.camera and row.camera.sensor_width_mm:
        sensor = row.camera.sensor_width_mm
    return SetUpFacts(
        pk=row.pk or 0,
        number=number,
        name=row.name,
        note=row.note,
        starts_at=row.starts_at,
        ends_at=row.ends_at,
        light=Light(row.light),
        shade=Shade(row.shade),
        shaded_from_at=row.shaded_from_at,
        shaded_until_at=row.shaded_until_at,
        heading_deg=row.camera_heading_deg,
        facing_deg=row.sitters_face_deg,
        people=row.people,
        depth_m=row.depth_m,
        distance_m=row.distance_m,
        focal_length_mm=row.focal_length_mm,
        frame_deg=field_of_view_deg(
            focal_length_mm=row.focal_length_mm, sensor_side_mm=sensor
        ),
        lens_words=f"{row.focal_length_mm:g} mm",
        support=Support(row.support).label,
        movement_words=Movement(row.movement).label,
        frames=row.frames,
        flash_name=row.flash.name if row.flash else "",
        flash_bearing_deg=row.flash_bearing_deg,
        board_name=row.board.name if row.board else "",
        lighting=lighting_facts(row),
        window_sight=window_sight(row),
    )


def quarter_hours(start: datetime, end: datetime, most: int = 16) -> list[datetime]:
    """Return the clock's quarters in a span, or halves or hours if it is long.

    They are by the clock of `start`; an hour that the clock repeats stands twice.
    """
    zone = start.tzinfo
    first = start.replace(minute=0, second=0, microsecond=0).astimezone(UTC)
    length = int((end.astimezone(UTC) - first).total_seconds() // 60)
    within: list[datetime] = []
    for step in (15, 30, 60, 120):
        times = [first + timedelta(minutes=step * n) for n in range(length // step + 1)]
        within = [at.astimezone(zone) for at in times if start <= at <= end]
        if len(within) <= most:
            break
    return within[:most]
