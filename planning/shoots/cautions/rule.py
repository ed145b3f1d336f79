"""What a rule is: a function over a scene, with a stable name and its source."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, time
from zoneinfo import ZoneInfo

from jobs.attending.company import Company
from planning.light.illuminance import Sky
from planning.shoots.daylight import Lost
from planning.shoots.planned import Caution, PlannedSetUp
from planning.sites.grounds import Ground
from planning.weather.models import WeatherSeen

COMMON = "common practice, no source"
OWN_FIGURES = "worked out from this plan's own figures"


_NOT = r"\b(?:no|not|without|never)\s+(?:\w+\s+)?"
_LEAVE = r"(?:permission|permit|permitted|allowed|allows|agreed|licen[cs]ed?|consent)\b"
_WHEELS = r"(?:step-free|no steps|ramps?|wheelchairs?|level|lift)\b"
_SHORE = re.compile(
    r"\b(beach|shore|foreshore|seashore|sands|tides?|tidal|slipway|quay|mole|cove|"
    r"estuary|mudflats|sea wall|causeway)\b",
    re.IGNORECASE,
)


def says(wanted: str, words: str) -> bool:
    """Return whether words say something, and nowhere the opposite: "no ramp"."""
    if re.search(_NOT + wanted, words, re.IGNORECASE):
        return False
    return bool(re.search(rf"\b{wanted}", words, re.IGNORECASE))


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFacts:
    """What is written of a place: in words, and what lies on its ground if known."""

    words: str = ""
    contact_name: str = ""
    ground: Ground | None = None

    @property
    def permission_is_written(self) -> bool:
        """Whether something says who allows work there, or whom to ask."""
        return bool(self.contact_name) or says(_LEAVE, self.words)

    @property
    def step_free_is_written(self) -> bool:
        """Whether something says how wheels get there."""
        return says(_WHEELS, self.words)

    @property
    def is_shore(self) -> bool:
        """Whether the sea may come and go there, by its ground or its words."""
        by_ground = self.ground == Ground.WET_SAND
        return by_ground or bool(_SHORE.search(self.words))


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """All that rules may look at: a session, its set-ups, and what is known of it."""

    set_ups: tuple[PlannedSetUp, ...]
    lost: Lost | None
    sunset: datetime | None
    span: tuple[datetime, datetime]
    zone: ZoneInfo
    sky: Sky
    access_from: time | None = None
    access_until: time | None = None
    indoors: bool = False
    weather: WeatherSeen | None = None
    company: Company = field(default_factory=Company)
    place: PlaceFacts = field(default_factory=PlaceFacts)

    @property
    def weather_outdoors(self) -> WeatherSeen | None:
        """The weather that was read, where the session is out in it."""
        return None if self.indoors else self.weather

    @property
    def sun_shows(self) -> bool:
        """Whether the planned sky lets the sun through at times."""
        return self.sky in {Sky.CLEAR, Sky.PARTLY_CLOUDY}


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule: its stable name, where it comes from, and what it gives."""

    name: str
    source: str
    gives: Callable[[Scene], Iterable[Caution]]

    def look(self, scene: Scene) -> Iterator[Caution]:
        """Give the rule's cautions, each with the rule's name and source."""
        for one in self.gives(scene):
            yield replace(one, rule=self.name, source=self.source)


def rule(
    name: str, source: str
) -> Callable[[Callable[[Scene], Iterable[Caution]]], Rule]:
    """Make a rule of a function that looks at the whole scene."""

    def named(gives: Callable[[Scene], Iterable[Caution]]) -> Rule:
        return Rule(name=name, source=source, gives=gives)

    return named


def set_up_rule(
    name: str, source: str
) -> Callable[[Callable[[PlannedSetUp, Scene], Caution | None]], Rule]:
    """Make a rule of a function that looks at one set-up of the scene at a time."""

    def named(gives: Callable[[PlannedSetUp, Scene], Caution | None]) -> Rule:
        def each(scene: Scene) -> Iterator[Caution]:
            for one in scene.set_ups:
                if caution := gives(one, scene):
                    yield caution

        return Rule(name=name, source=source, gives=each)

    return named
