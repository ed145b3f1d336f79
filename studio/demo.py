"""The invented studio: each app adds its share, in the order of INSTALLED_APPS.

Autodiscovery imports `demo` of every app, this one too; each registers a function
that fills its own tables by calling its own operations.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final

from studio.profile.demo import found_studio

Share = Callable[["Scenery"], None]
_shares: Final[list[Share]] = []


@dataclass(slots=True)
class Scenery:
    """What the shares of the demo hand on to each other, by name."""

    at: datetime
    rows: dict[str, Any] = field(default_factory=dict)
    passwords: dict[str, str] = field(default_factory=dict)


def demo_share(share: Share) -> Share:
    """Register an app's share of the demo."""
    _shares.append(share)
    return share


def build_demo(scenery: Scenery) -> Scenery:
    """Fill an empty database with the invented studio."""
    for share in _shares:
        share(scenery)
    return scenery


@demo_share
def studio_share(scenery: Scenery) -> None:
    """Set the studio up; hands on `profile`, and `maren`, `jory` and `edda`."""
    founded = found_studio(at=scenery.at)
    scenery.rows |= {"profile": founded.profile, **founded.people}
    scenery.passwords |= founded.passwords
