"""A light plan as pages and papers show it: words, charts, rows of a table."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import partial

from planning.light.illuminance import Sky
from planning.shoots.cautions import lost_words
from planning.shoots.charts.dial import set_up_dial
from planning.shoots.charts.light_chart import ChartLook, light_chart
from planning.shoots.charts.skyline_chart import SkylineLook, skyline_chart
from planning.shoots.daylight import Moment
from planning.shoots.evs import cloud_evs, shade_evs, sun_evs
from planning.shoots.lamp_words import lamp_reasons
from planning.shoots.planned import (
    Caution,
    PlannedSetUp,
    PlannedShoot,
)
from planning.shoots.queries import quarter_hours
from planning.shoots.sun_days import sun_day_words
from planning.shoots.words import (
    ev_words,
    light_words,
    range_words,
    settings_words,
    signed,
    why_words,
)
from studio.scene.drawing import Drawing

NARROW_CHART = ChartLook(
    width=390.0, plot_height=230.0, type_size=12.5, narrow=True, dials=False
)
NARROW_SKYLINE = SkylineLook(width=390.0, height=190.0, type_size=12.5, narrow=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownSetUp:
    """One set-up in words."""

    pk: int
    number: int
    name: str
    note: str
    starts_at: datetime
    ends_at: datetime
    minutes: int
    light_words: str
    settings: str
    range_words: str
    beside: str
    why: str
    brief: str
    reasons: tuple[str, ...]
    remedies: tuple[str, ...]
    fits: bool
    ev_words: str
    dial: Drawing

    @property
    def ident(self) -> str:
        """A word that names its drawing on a page."""
        return str(self.number)


@dataclass(frozen=True, slots=True, kw_only=True)
class LightRow:
    """The light at one time of the table."""

    at: datetime
    azimuth: str
    height: str
    sun: str
    shade: str
    overcast: str
    phase: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPlan:
    """A plan as a page shows it."""

    booking_id: int
    sky: str
    set_ups: tuple[ShownSetUp, ...]
    cautions: tuple[Caution, ...]
    chart: Drawing
    chart_narrow: Drawing
    skyline: Drawing
    skyline_narrow: Drawing
    rows: tuple[LightRow, ...]
    lost: str
    sun_words: str
    events: tuple[tuple[str, datetime | None], ...]
    zone: str
    tolerance: str

    @property
    def risks(self) -> tuple[Caution, ...]:
        """The cautions that must not be overlooked."""
        return tuple(one for one in self.cautions if one.is_risk)

    @property
    def asides(self) -> tuple[Caution, ...]:
        """The cautions that are good to know."""
        return tuple(one for one in self.cautions if not one.is_risk)


def shown_plan(shoot: PlannedShoot) -> ShownPlan:
    """Return a worked-out plan as pages show it."""
    zone = shoot.light.where.zone
    return ShownPlan(
        booking_id=shoot.booking_id,
        sky=shoot.sky_words,
        set_ups=tuple(shown_set_up(one) for one in shoot.set_ups),
        cautions=shoot.cautions,
        chart=light_chart(shoot),
        chart_narrow=light_chart(shoot, NARROW_CHART),
        skyline=skyline_chart(shoot),
        skyline_narrow=skyline_chart(shoot, NARROW_SKYLINE),
        rows=light_rows(shoot),
        lost=lost_words(shoot.lost, zone) if shoot.lost else "",
        sun_words=sun_day_words(shoot.light),
        events=events_of(shoot),
        zone=shoot.light.where.time_zone,
        tolerance=TOLERANCE,
    )


TOLERANCE = (
    "A model for this place and day. With a clear sky good to about ⅓ stop while the "
    "sun is above 10°, ½ stop down to 5°, 1 stop below; real cloud may be a stop "
    "either side, dark overcast two under. Take a reading on the day."
)


def shown_set_up(one: PlannedSetUp) -> ShownSetUp:
    """Return a set-up in words."""
    suggestion = one.suggestion
    facts = one.facts
    return ShownSetUp(
        pk=facts.pk,
        number=facts.number,
        name=facts.name,
        note=facts.note,
        starts_at=facts.starts_at,
        ends_at=facts.ends_at,
        minutes=facts.minutes,
        light_words=light_words(one),
        settings=settings_words(one),
        range_words=range_words(one),
        beside=(f"{suggestion.iso.nominal}, {facts.lens_words}" if suggestion else ""),
        why=why_words(one),
        brief=why_words(one, brief=True),
        reasons=(*(suggestion.reasons if suggestion else ()), *lamp_reasons(one)),
        remedies=tuple(
            f"{remedy.sentence} ({remedy.stops:.1f} stops)"
            for remedy in (suggestion.remedies if suggestion else ())[:4]
        ),
        fits=suggestion is not None and suggestion.fits,
        ev_words=ev_words(one),
        dial=set_up_dial(one),
    )


def light_rows(shoot: PlannedShoot) -> tuple[LightRow, ...]:
    """Return the light through the session, quarter by quarter."""
    zone = shoot.light.where.zone
    times = quarter_hours(
        shoot.starts_at.astimezone(zone), shoot.ends_at.astimezone(zone)
    )
    light, moments = shoot.light, shoot.light.moments(times)
    evs = zip(
        sun_evs(light, moments, Sky.CLEAR),
        shade_evs(light, moments, Sky.CLEAR),
        cloud_evs(light, moments, Sky.OVERCAST),
        strict=True,
    )
    return tuple(map(partial(_row, shoot), moments, evs))


def _row(
    shoot: PlannedShoot, moment: Moment, evs: tuple[float, float, float]
) -> LightRow:
    zone, (in_sun, in_shade, overcast) = shoot.light.where.zone, evs
    lost = shoot.lost
    doubtful = bool(lost and lost.earliest_at <= moment.at <= lost.latest_at)
    sun = "–"
    if moment.is_shining or (doubtful and moment.is_up):
        sun = f"{in_sun:.1f}" + ("?" if doubtful else "")
    phase = "day" if moment.is_shining else "shade" if moment.is_up else "dark"
    return LightRow(
        at=moment.at.astimezone(zone),
        azimuth=f"{moment.azimuth_deg:.0f}°",
        height=f"{max(moment.altitude_deg, 0.0):.0f}°" if moment.is_up else "down",
        sun=sun,
        shade=signed(in_shade),
        overcast=signed(overcast),
        phase=phase,
    )


def events_of(shoot: PlannedShoot) -> tuple[tuple[str, datetime | None], ...]:
    """Return the events of the day in their order, each with its name."""
    day = shoot.light.day
    return (
        ("Nautical dawn", day.nautical_dawn),
        ("Civil dawn", day.civil_dawn),
        ("Sunrise", day.sunrise),
        ("Sun highest", day.solar_noon),
        ("Sunset", day.sunset),
        ("Civil dusk", day.civil_dusk),
        ("Nautical dusk", day.nautical_dusk),
    )
