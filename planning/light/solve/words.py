"""Numbers as a photographer reads them, each with its unit."""

from math import ceil, isinf

from planning.light.exposure import Stop


def seconds_text(seconds: float) -> str:
    """Return a shutter time that is not on a scale: "1/57 s", "0.7 s", "12 s".

    A fraction is rounded to the shorter time, so that a limit is never overstated.
    """
    if seconds < 0.3:
        return f"1/{ceil(1.0 / seconds - 1e-9)} s"
    if seconds < 10.0:
        return f"{seconds:.1f} s".replace(".0 s", " s")
    return f"{seconds:.0f} s"


def metres_text(metres: float) -> str:
    """Return a length: "9 cm", "4.5 m", "40 m", "infinity"."""
    if isinf(metres):
        return "infinity"
    if metres < 0.995:
        return f"{metres * 100.0:.0f} cm"
    return f"{metres:.1f} m" if metres < 19.95 else f"{metres:.0f} m"


def span_text(near_m: float, far_m: float) -> str:
    """Return a zone: "4.5–5.7 m", "2.46–2.55 m" if thin, "5.1 m to infinity"."""
    if isinf(far_m):
        return f"{metres_text(near_m)} to infinity"
    digits = 2 if far_m - near_m < 0.3 else 1
    return f"{near_m:.{digits}f}–{far_m:.{digits}f} m"


def stops_text(stops: float) -> str:
    """Return a number of stops: "0.3 stop", "1 stop", "1.7 stops"."""
    number = f"{stops:.1f}".removesuffix(".0")
    return f"{number} stop" if float(number) <= 1.0 else f"{number} stops"


def value_text(exposure_value: float) -> str:
    """Return an exposure value: "EV 10.9", "EV −0.3"."""
    rounded = round(exposure_value, 1) + 0.0  # never "-0.0"
    return f"EV {rounded:.1f}".replace("-", "−")


def change_text(first: Stop, last: Stop) -> str:
    """Return a setting that may move: "1/250 s", or "1/250 s → 1/160 s"."""
    if first == last:
        return first.nominal
    return f"{first.nominal} → {last.nominal}"


def group_text(people: int) -> str:
    """Return whom the picture shows: "the sitter", "both", "all four"."""
    if people == 1:
        return "the sitter"
    if people == 2:
        return "both"
    names = ("three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return f"all {names[people - 3]}" if people <= 10 else f"all {people}"
