"""The time zone of a pair of coordinates."""

from zoneinfo import available_timezones

from tzfpy import get_tz


def time_zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """Return the IANA name of the clock at a place; at sea that of the meridian.

    Source: the time zone boundaries that the package tzfpy carries.
    """
    name = str(get_tz(longitude_deg, latitude_deg))
    return name if name in available_timezones() else "UTC"
