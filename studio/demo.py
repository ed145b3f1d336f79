"""The invented studio: each app adds its share, in the order of INSTALLED_APPS.

Autodiscovery imports `demo` of every app, this one too; each registers a function
that fills its own tables by calling its own operations.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, time, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from studio.mail.quiet import carry_quietly
from studio.profile.demo import FACTS, found_studio

Share = Callable[["Scenery"], None]
Act = Callable[[datetime], object]
_shares: Final[list[Share]] = []

FOUNDED_DAYS: Final = -120


@dataclass(slots=True)
class Scenery:
    """What the shares of the demo hand on to each other, by name.

    A share does nothing itself: it says when what happens, so that the acts of all
    apps fall into one order, and numbers, dates and the journal with them.
    """

    at: datetime
    rows: dict[str, Any] = field(default_factory=dict)
    passwords: dict[str, str] = field(default_factory=dict)
    acts: list[tuple[datetime, Act]] = field(default_factory=list)

    def moment(self, days: int, clock: str = "10:00") -> datetime:
        """Return a clock time so many days from today, by the studio's own clock."""
        zone = ZoneInfo(FACTS["time_zone"])
        day = self.at.astimezone(zone).date() + timedelta(days=days)
        return datetime.combine(day, time.fromisoformat(clock), tzinfo=zone)

    def then(self, days: int, clock: str, act: Act) -> None:
        """Let something happen on an earlier day; it is told when."""
        if days >= 0:
            raise ValueError("the demo's past ends yesterday")
        self.acts.append((self.moment(days, clock), act))


def demo_share(share: Share) -> Share:
    """Register an app's share of the demo."""
    _shares.append(share)
    return share


def build_demo(scenery: Scenery) -> Scenery:
    """Fill an empty database with the invented studio, day after day."""
    for share in _shares:
        share(scenery)
    for at, act in sorted(scenery.acts, key=lambda entry: entry[0]):
        act(at)
        carry_quietly(at=at + timedelta(minutes=1))
    return scenery


@demo_share
def studio_share(scenery: Scenery) -> None:
    """Set the studio up; hands on `profile`, and `maren`, `jory` and `edda`."""
    founded = found_studio(at=scenery.moment(FOUNDED_DAYS))
    scenery.rows |= {"profile": founded.profile, **founded.people}
    scenery.passwords |= founded.passwords
