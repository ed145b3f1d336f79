"""What rooms are made of: walls and glass, and what share of light they pass on."""

from typing import Final

from django.db import models


class WallTone(models.TextChoices):
    """How light a room is decorated, floor and ceiling counted in."""

    WHITE = "white", "White, light floor"
    NORMAL = "normal", "Light walls, ordinary floor"
    DARK = "dark", "Dark walls or much dark furniture"


class Glazing(models.TextChoices):
    """What light goes through."""

    SINGLE = "single", "Single glass"
    DOUBLE = "double", "Double glass"
    TRIPLE = "triple", "Triple glass"
    DIRTY = "dirty", "Double, dirty"


MEAN_REFLECTANCES: Final = {
    WallTone.WHITE: 0.6,
    WallTone.NORMAL: 0.5,
    WallTone.DARK: 0.25,
}
"""Mean over all surfaces; common practice, no source."""

TRANSMITTANCES: Final = {
    Glazing.SINGLE: 0.8,
    Glazing.DOUBLE: 0.7,
    Glazing.TRIPLE: 0.6,
    Glazing.DIRTY: 0.5,
}
"""Single and double: the daylight-factor practice of BRE and CIBSE. Triple and dirty:
common practice, no source."""

NET_CURTAIN: Final = 0.5
"""What a net curtain lets through; common practice, no source."""
