"""How much less light the back of a group gets than its front, from one lamp.

Inverse square from where the lamp stands to two sitters on the camera's axis, half the
group's depth before and behind its middle. It fails nearer than about five times the
lamp's own size, where a large soft light falls off less.
"""

from math import cos, log2, radians, sqrt

from planning.light.guards import finite, not_negative, positive


def group_falloff_stops(
    *, distance_m: float, depth_m: float, bearing_deg: float = 0.0
) -> float:
    """Return what the front of a group gets more than its back, in stops.

    `distance_m` is from the lamp to the group's middle, `depth_m` from the nearest to
    the farthest sitter along the camera's axis, `bearing_deg` the lamp's place beside
    that axis: 0 the camera's side, 90 from one side, where both get the same; below 0
    stops from behind. ValueError where the lamp stands among them.
    Source: inverse square and the law of cosines; log2(back^2/front^2).
    """
    positive(distance_m=distance_m)
    not_negative(depth_m=depth_m)
    finite(bearing_deg=bearing_deg)
    if distance_m <= depth_m / 2.0:
        raise ValueError(f"a lamp at {distance_m} m stands within {depth_m} m of group")
    both = distance_m**2 + (depth_m / 2.0) ** 2
    apart = distance_m * depth_m * cos(radians(bearing_deg))
    return log2((both + apart) / (both - apart))


def evening_distance_m(
    *, depth_m: float, stops: float, bearing_deg: float = 0.0
) -> float | None:
    """Return how far a lamp stands for a fall-off of so many stops, in metres.

    None where no distance beyond the group's own depth makes it that large.
    Source: `group_falloff_stops`, a square equation in the distance.
    """
    positive(depth_m=depth_m, stops=stops)
    finite(bearing_deg=bearing_deg)
    times = float(2.0**stops)
    steep = abs(cos(radians(bearing_deg))) * (times + 1.0) / (times - 1.0)
    if steep <= 1.0:
        return None
    return depth_m / 2.0 * (steep + sqrt(steep * steep - 1.0))
