"""Colour of light in mireds, and what filters cost.

Named colours of light are good to 500 K below 6000 K and to 30 % above: show names or
mireds, never single kelvins. LEDs and tubes are not described well by either.
"""

from math import log2

from planning.light.guards import not_negative, positive

_MIREDS_PER_KELVIN = 1e6


def mired(kelvin: float) -> float:
    """Return a colour temperature in mireds: a million over the kelvins."""
    positive(kelvin=kelvin)
    return _MIREDS_PER_KELVIN / kelvin


def mired_shift(*, from_k: float, to_k: float) -> float:
    """Return the filter that turns one light into another; above 0 is warmer.

    Shifts of stacked filters add.
    """
    return mired(to_k) - mired(from_k)


def filter_stops(optical_density: float) -> float:
    """Return what a filter of that density costs in stops: density/log10(2)."""
    not_negative(optical_density=optical_density)
    return optical_density * log2(10.0)
