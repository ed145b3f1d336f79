"""What lies on the ground, and what share of the light it throws back up."""

from typing import Final

from django.db import models


class Ground(models.TextChoices):
    """What people stand on; the label says its share."""

    GRASS = "grass", "Grass, earth: 20%"
    ASPHALT = "asphalt", "Asphalt, dark paving: 10%"
    CONCRETE = "concrete", "Light concrete, pale stone: 35%"
    SAND = "sand", "Dry sand: 40%"
    WET_SAND = "wet_sand", "Wet sand: 20%"
    WATER = "water", "Water, sun above 30°: 7%"
    SNOW = "snow", "Fresh snow: 80%"
    TYPED = "typed", "Another share, typed below"


REFLECTANCES: Final = {
    Ground.GRASS: 0.2,
    Ground.ASPHALT: 0.1,
    Ground.CONCRETE: 0.35,
    Ground.SAND: 0.4,
    Ground.WET_SAND: 0.2,
    Ground.WATER: 0.07,
    Ground.SNOW: 0.8,
}
"""Grass, asphalt, sand, snow: IES daylighting practice, 1984. Concrete, wet sand and
water: common practice, no source; low sun on water throws up far more, in one
direction."""
