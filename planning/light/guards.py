"""Refusals of the light core: a caller's mistake names the value that was wrong."""

from math import isfinite


def positive(**values: float) -> None:
    """Refuse every value that is not a finite number above zero (ValueError)."""
    for name, value in values.items():
        if not (isfinite(value) and value > 0.0):
            raise ValueError(f"{name} must be above zero, not {value}")


def not_negative(**values: float) -> None:
    """Refuse every value that is not a finite number of zero or more (ValueError)."""
    for name, value in values.items():
        if not (isfinite(value) and value >= 0.0):
            raise ValueError(f"{name} must not be negative, not {value}")


def fraction(**values: float) -> None:
    """Refuse every value that is not within 0 to 1, both included (ValueError)."""
    for name, value in values.items():
        if not 0.0 <= value <= 1.0:
            raise ValueError(f"{name} must lie within 0 to 1, not {value}")


def finite(**values: float) -> None:
    """Refuse every value that is not a finite number (ValueError)."""
    for name, value in values.items():
        if not isfinite(value):
            raise ValueError(f"{name} must be a finite number, not {value}")
