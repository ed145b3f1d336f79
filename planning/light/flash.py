"""What a flash gives: guide number, distance, power, ratio, sync.

Good to half a stop for a bare flash and a stop through modifiers or by bounce, until
one test frame is shot: guide numbers are quoted at the long zoom and indoors. The
inverse square fails nearer than about five times the light's own size (use `fill`).
"""

from dataclasses import dataclass
from math import atan, degrees, floor, log2, sqrt

from planning.light.guards import finite, fraction, not_negative, positive

METRES_PER_FOOT = 0.3048


@dataclass(frozen=True, slots=True, kw_only=True)
class LightingRatio:
    """One contrast of lights under each convention, so that nobody mixes them.

    `incident_key_to_fill` is K:F, each light measured by itself;
    `key_plus_fill_to_fill` is (K+F):F, the lit side over the shadow side (3:1 is one
    stop of key over fill); `lit_minus_shadow_stops` is that second one in stops.
    """

    incident_key_to_fill: float
    key_plus_fill_to_fill: float
    lit_minus_shadow_stops: float


def flash_f_number(
    *,
    guide_number_m: float,
    distance_m: float,
    power: float = 1.0,
    iso: float = 100.0,
    loss_stops: float = 0.0,
) -> float:
    """Return the f-number that a flash suits at a distance; 0 at power 0.

    Units: metres, guide number in metres at ISO 100; power a fraction of full.
    Source: guide numbers (ISO 1230, from memory); GN sqrt(p S/100)/(d 2^(L/2)).
    """
    positive(guide_number_m=guide_number_m, distance_m=distance_m, iso=iso)
    not_negative(power=power)
    finite(loss_stops=loss_stops)
    gain = power * iso / 100.0 / 2.0**loss_stops
    return guide_number_m * sqrt(gain) / distance_m


def guide_number_from_frame_m(
    *,
    f_number: float,
    distance_m: float,
    power: float = 1.0,
    iso: float = 100.0,
    loss_stops: float = 0.0,
) -> float:
    """Return the guide number that one well-exposed frame shows a flash to have.

    Source: `flash_f_number`, solved for the guide number.
    """
    positive(f_number=f_number, distance_m=distance_m, power=power, iso=iso)
    finite(loss_stops=loss_stops)
    gain = power * iso / 100.0 / 2.0**loss_stops
    return f_number * distance_m / sqrt(gain)


def loss_from_frame_stops(
    *,
    guide_number_m: float,
    f_number: float,
    distance_m: float,
    power: float = 1.0,
    iso: float = 100.0,
) -> float:
    """Return what one well-exposed frame shows to be lost on the way, in stops.

    Below 0 the light was stronger than the bare flash would give.
    Source: `flash_f_number`, solved for the loss.
    """
    positive(f_number=f_number, power=power)
    bare = flash_f_number(
        guide_number_m=guide_number_m, distance_m=distance_m, power=power, iso=iso
    )
    return 2.0 * log2(bare / f_number)


def guide_number_stops(*, measured_m: float, stated_m: float) -> float:
    """Return by how many stops a measured guide number is above the stated one.

    Source: exposure goes with the square of the f-number; 2 log2(measured/stated).
    """
    positive(measured_m=measured_m, stated_m=stated_m)
    return 2.0 * log2(measured_m / stated_m)


def flash_power(
    *,
    guide_number_m: float,
    f_number: float,
    distance_m: float,
    iso: float = 100.0,
    loss_stops: float = 0.0,
) -> float:
    """Return the fraction of full power that the f-number asks for.

    Over 1 the subject is out of reach by log2(power) stops.
    Source: `flash_f_number`, solved for the power.
    """
    positive(guide_number_m=guide_number_m, f_number=f_number, distance_m=distance_m)
    positive(iso=iso)
    finite(loss_stops=loss_stops)
    share = (f_number * distance_m / guide_number_m) ** 2
    return float(share * 100.0 / iso * 2.0**loss_stops)


def flash_distance_m(
    *,
    guide_number_m: float,
    f_number: float,
    power: float = 1.0,
    iso: float = 100.0,
    loss_stops: float = 0.0,
) -> float:
    """Return how far the flash reaches at the f-number, in metres."""
    positive(f_number=f_number)
    return (
        flash_f_number(
            guide_number_m=guide_number_m,
            distance_m=1.0,
            power=power,
            iso=iso,
            loss_stops=loss_stops,
        )
        / f_number
    )


def bounce_loss_stops(*, reflectance: float, spread_stops: float) -> float:
    """Return what a bounce off a wall or ceiling costs, in stops.

    `spread_stops` 0.5 to 1.5 (common practice); the distance is the whole path's.
    Source: log2(1/reflectance) + spread.
    """
    positive(reflectance=reflectance)
    fraction(reflectance=reflectance)
    not_negative(spread_stops=spread_stops)
    return log2(1.0 / reflectance) + spread_stops


def distance_change_stops(*, from_m: float, to_m: float) -> float:
    """Return what moving a light brings, in stops; negative as it moves away.

    Source: inverse square; -2 log2(to/from).
    """
    positive(from_m=from_m, to_m=to_m)
    return -2.0 * log2(to_m / from_m)


def combined_exposure_value(*, first: float, second: float) -> float:
    """Return the exposure value of two lights that fall on the same place.

    Source: light adds; log2(2^a + 2^b).
    """
    finite(first=first, second=second)
    high, low = max(first, second), min(first, second)
    return high + log2(1.0 + 2.0 ** (low - high))


def lighting_ratio(key_minus_fill_stops: float) -> LightingRatio:
    """Return the contrast of a key light so many stops over its fill.

    Key and fill are measured each by itself; the fill reaches both sides of the face.
    Source: K:F = 2^d, (K+F):F = 2^d + 1; both conventions are in use.
    """
    finite(key_minus_fill_stops=key_minus_fill_stops)
    key_to_fill = float(2.0**key_minus_fill_stops)
    return LightingRatio(
        incident_key_to_fill=key_to_fill,
        key_plus_fill_to_fill=key_to_fill + 1.0,
        lit_minus_shadow_stops=log2(key_to_fill + 1.0),
    )


def high_speed_sync_loss_stops(
    *, shutter_s: float, sync_s: float, entry_loss_stops: float
) -> float:
    """Return what high-speed sync costs, in stops; 0 at the sync speed and slower.

    The entry loss (1 to 2, common practice) differs from unit to unit: measure it.
    Source: entry + log2(sync/shutter).
    """
    positive(shutter_s=shutter_s, sync_s=sync_s)
    not_negative(entry_loss_stops=entry_loss_stops)
    if shutter_s >= sync_s:
        return 0.0
    return entry_loss_stops + log2(sync_s / shutter_s)


def red_eye_angle_deg(*, separation_m: float, distance_m: float) -> float:
    """Return the angle between flash and lens seen from the eye, in degrees.

    Below about 2.5 degrees expect red eyes (teaching pages say 2 or 2.5; no
    controlled study), sooner in dim rooms and with children.
    Source: geometry; atan(separation/distance).
    """
    not_negative(separation_m=separation_m)
    positive(distance_m=distance_m)
    return degrees(atan(separation_m / distance_m))


def recycle_s(*, full_power_recycle_s: float, power: float) -> float:
    """Return the wait between two flashes, in seconds: as the energy, so the wait."""
    not_negative(full_power_recycle_s=full_power_recycle_s)
    fraction(power=power)
    return full_power_recycle_s * power


def metres_from_feet(feet: float) -> float:
    """Return a length in metres, for guide numbers and distances given in feet."""
    not_negative(feet=feet)
    return feet * METRES_PER_FOOT


def frames_left(
    *, capacity_gb: float, used_gb: float, frame_mb: float, reserve: float = 0.1
) -> int:
    """Return how many frames a card still takes; decimal GB, a share kept free."""
    not_negative(capacity_gb=capacity_gb, used_gb=used_gb)
    positive(frame_mb=frame_mb)
    fraction(reserve=reserve)
    room_mb = (capacity_gb * (1.0 - reserve) - used_gb) * 1000.0
    return max(0, floor(room_mb / frame_mb + 1e-9))
