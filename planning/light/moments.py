"""Places and moments as the rest of the light core wants them."""

from datetime import UTC, datetime, timedelta
from math import isfinite

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
Instants = npt.NDArray[np.datetime64]
Microseconds = npt.NDArray[np.int64]

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
DAY_US = 86_400_000_000
_NOT_A_TIME = np.iinfo(np.int64).min
_DAY_S = 86_400.0
_MICROSECOND = timedelta(microseconds=1)


def check_place(latitude_deg: float, longitude_deg: float) -> None:
    """Refuse a latitude outside -90 to 90 or a longitude outside -180 to 180."""
    if not (isfinite(latitude_deg) and -90.0 <= latitude_deg <= 90.0):
        raise ValueError(f"latitude {latitude_deg} is outside -90 to 90 degrees")
    if not (isfinite(longitude_deg) and -180.0 <= longitude_deg <= 180.0):
        raise ValueError(f"longitude {longitude_deg} is outside -180 to 180 degrees")


def microseconds(at: datetime | np.datetime64 | Instants) -> Microseconds:
    """Return moments as whole microseconds since 1970-01-01 UTC.

    Shape: an aware datetime or datetime64 gives no dimensions, an array its own.
    Errors: ValueError for a naive datetime, NaT, or an array of anything else.
    """
    if isinstance(at, datetime):
        if at.tzinfo is None or at.utcoffset() is None:
            raise ValueError(f"{at.isoformat()} has no time zone")
        return np.array((at - EPOCH) // _MICROSECOND, dtype=np.int64)
    instants = np.asarray(at)
    if instants.dtype.kind != "M":
        raise ValueError(f"moments of type {instants.dtype} are not datetime64")
    whole = instants.astype("datetime64[us]", copy=False).view(np.int64)
    if whole.size and whole.min() == _NOT_A_TIME:
        raise ValueError("a moment is NaT")
    return whole


def days_since_epoch(at: datetime) -> float:
    """Return an aware datetime as days since 1970-01-01 UTC."""
    return at.timestamp() / _DAY_S


def utc_datetime(days: float) -> datetime | None:
    """Return days since 1970-01-01 UTC as an aware datetime, None for NaN."""
    if days != days:  # noqa: PLR0124  NaN alone differs from itself
        return None
    return EPOCH + timedelta(microseconds=round(days * DAY_US))
