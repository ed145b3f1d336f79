"""What a request comes to before any setting is chosen: dials, limits, light.

Settings are counted in thirds of a stop, as whole numbers: an aperture's, shutter's and
ISO's index on its scale. Then exposure is a sum: the light's level in thirds equals
aperture + shutter - ISO, and nothing is lost to rounding but the light's own third.
"""

from dataclasses import dataclass
from math import ceil, floor, log2

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS, SHUTTER_THIRDS
from planning.light.motion import (
    ACCEPTABLE_BLUR_MM,
    CRITICAL_BLUR_MM,
    freezing_shutter_s,
    handheld_shutter_s,
)
from planning.light.optics import (
    airy_diameter_um,
    circle_of_confusion_mm,
    crop_factor,
    magnification,
    zone_f_number,
    zone_focus_m,
)
from planning.light.solve.requests import (
    Aim,
    Ambient,
    Body,
    Flash,
    FlashPurpose,
    Lens,
    SetUpRequest,
    Support,
)

# Common practice, no source, where no other is named:
HAND_CAP_S = 1.0 / 8.0  # whatever the stabiliser: sitters and hands sway
RATING_DISCOUNT_STOPS = 1.0  # a stabiliser's rating is a laboratory's
SPARE_DEPTH_THIRDS = 3  # a stop in hand on the depth that the group needs
SPARE_ALL_SHARP_THIRDS = 6
COMFORT_THIRDS = 6  # two stops over base ISO, the grey day's ISO 400, cost little
STREAK_OF_FRAME = 1.0 / 20.0  # of the short side: blur that reads as meant
LONGEST_STREAK_STOPS = 2.0  # beyond it the subject dissolves
FLASH_FREEZES_STOPS = 3.0  # so far under, ambient no longer draws the subject

_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Dials:
    """How far each dial turns, by indices; a higher shutter index is faster."""

    widest: int
    narrowest: int
    base: int
    highest: int
    slowest: int
    fastest: int
    sync: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Focus:
    """What has to be sharp, and the f-numbers that it leads to, by indices.

    `needed_f_number` is exact, 0 for one plane; `needed` is on the lens, or its
    narrowest where even that is too wide. `home` is what the aim would like best;
    beyond `diffraction` an Airy disc outgrows the circle of confusion.
    """

    near_m: float
    far_m: float
    focus_m: float
    circle_mm: float
    needed_f_number: float
    diffraction_f_number: float
    needed: int
    home: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """Shutter times that something asks for, in seconds; None: it asks for nothing.

    `hand_s`, `motion_s` and `critical_s` are the slowest allowed; a `streak_s` is the
    fastest that still blurs on purpose, `dissolve_s` the slowest that still shows
    somebody.
    """

    hand_s: float | None
    motion_s: float | None
    critical_s: float | None
    streak_s: float | None
    dissolve_s: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """The lights as shares of the key light; `face` sums those that reach the face."""

    ambient: float
    flash: float
    second: float
    second_on_face: float
    face: float

    @property
    def ambient_under_stops(self) -> float:
        """Return how far the ambient should stay under a full exposure, in stops."""
        return log2(self.face / self.ambient)


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """The light in thirds of a stop, as the settings have to meet it."""

    start: int
    end: int
    dark: int
    bright: int

    @property
    def top(self) -> int:
        """Return the brightest likely level of the set-up."""
        return max(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A request with all that follows from it; `levels` None: flash alone."""

    request: SetUpRequest
    dials: Dials
    focus: Focus
    times: Times
    shares: Shares
    levels: Levels | None

    @property
    def flash_is_key(self) -> bool:
        """Say whether a flash is the main light."""
        flash = self.request.flash
        return flash is not None and flash.purpose is FlashPurpose.KEY


def read_scene(request: SetUpRequest) -> Scene:
    """Return what the request comes to."""
    dials = read_dials(lens=request.lens, body=request.body)
    shares = read_shares(request)
    return Scene(
        request=request,
        dials=dials,
        focus=read_focus(request=request, dials=dials),
        times=read_times(request),
        shares=shares,
        levels=read_levels(request=request, shares=shares),
    )


def read_dials(*, lens: Lens, body: Body) -> Dials:
    """Return how far the dials of this camera turn; ValueError if one has no stop."""
    apertures = APERTURE_THIRDS.within(
        lowest=lens.widest_f_number, highest=lens.narrowest_f_number
    )
    isos = ISO_THIRDS.within(lowest=body.base_iso, highest=body.highest_iso)
    shutters = SHUTTER_THIRDS.within(
        lowest=body.fastest_shutter_s, highest=body.slowest_shutter_s
    )
    syncs = SHUTTER_THIRDS.within(lowest=body.sync_s, highest=body.slowest_shutter_s)
    if not (apertures and isos and shutters and syncs):
        raise ValueError(f"no third stop lies within the limits of {lens} and {body}")
    return Dials(
        widest=apertures[0].index,
        narrowest=apertures[-1].index,
        base=isos[0].index,
        highest=isos[-1].index,
        slowest=shutters[0].index,
        fastest=shutters[-1].index,
        sync=syncs[-1].index,
    )


def read_focus(*, request: SetUpRequest, dials: Dials) -> Focus:
    """Return where to focus and which f-numbers hold what has to be sharp."""
    subject, lens, body = request.subject, request.lens, request.body
    circle = circle_of_confusion_mm(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )
    near, far = subject.near_m, subject.far_m
    if request.aim is Aim.ALL_SHARP and subject.background_m is not None:
        far = max(far, subject.background_m)
    focus = zone_focus_m(near_m=near, far_m=far)
    needed = zone_f_number(
        focal_length_mm=lens.focal_length_mm,
        near_m=near,
        far_m=far,
        circle_of_confusion_mm=circle,
    )
    scale = magnification(focal_length_mm=lens.focal_length_mm, focus_m=focus)
    diffraction = circle * 1000.0 / airy_diameter_um(1.0, magnification=scale)
    index = _aperture_index(needed, dials=dials)
    return Focus(
        near_m=near,
        far_m=far,
        focus_m=focus,
        circle_mm=circle,
        needed_f_number=needed,
        diffraction_f_number=diffraction,
        needed=index,
        home=_home(request.aim, needed=index, diffraction=diffraction, dials=dials),
    )


def read_times(request: SetUpRequest) -> Times:
    """Return the shutter times that hands, motion and the aim ask for."""
    body, lens = request.body, request.lens
    crop = crop_factor(
        sensor_width_mm=body.sensor_width_mm, sensor_height_mm=body.sensor_height_mm
    )
    hand = None
    if request.support is Support.HANDHELD:
        trusted = max(lens.stabilisation_stops - RATING_DISCOUNT_STOPS, 0.0)
        steady = handheld_shutter_s(
            lens.focal_length_mm, crop_factor=crop, stabilisation_stops=trusted
        )
        hand = min(steady, HAND_CAP_S)
    aim = request.aim
    streak = None
    if aim is Aim.BLUR:
        short_side = min(body.sensor_width_mm, body.sensor_height_mm)
        streak = blur_time_s(request, blur_mm=STREAK_OF_FRAME * short_side)
    motion = blur_time_s(request, blur_mm=ACCEPTABLE_BLUR_MM / crop)
    critical = blur_time_s(request, blur_mm=CRITICAL_BLUR_MM / crop)
    return Times(
        hand_s=hand,
        motion_s=None if aim is Aim.BLUR else motion,
        critical_s=critical if aim is Aim.FREEZE else None,
        streak_s=streak,
        dissolve_s=streak * 2.0**LONGEST_STREAK_STOPS if streak else None,
    )


def blur_time_s(request: SetUpRequest, *, blur_mm: float) -> float | None:
    """Return how long the subject takes to cross that much of the sensor, or None."""
    subject = request.subject
    return freezing_shutter_s(
        speed_m_s=subject.speed_m_s,
        angle_deg=subject.angle_deg,
        distance_m=subject.distance_m,
        focal_length_mm=request.lens.focal_length_mm,
        blur_mm=blur_mm,
    )


def read_shares(request: SetUpRequest) -> Shares:
    """Return each light as a share of the key light."""
    flash, second = request.flash, request.second_flash
    ambient = 1.0 if request.light else 0.0
    flash_share = second_share = 0.0
    on_face = ambient
    if flash is not None and flash.purpose is FlashPurpose.KEY:
        ambient, flash_share = ambient * _under(flash), 1.0
        on_face = ambient + flash_share
    elif flash is not None:
        flash_share = _under(flash)
        on_face += flash_share if flash.purpose is FlashPurpose.FILL else 0.0
    second_on_face = 0.0
    if second is not None:
        second_share = _under(second)
        second_on_face = second_share if second.purpose is FlashPurpose.FILL else 0.0
    return Shares(
        ambient=ambient,
        flash=flash_share,
        second=second_share,
        second_on_face=second_on_face,
        face=on_face + second_on_face,
    )


def read_levels(*, request: SetUpRequest, shares: Shares) -> Levels | None:
    """Return the light in thirds of a stop, or None with flash alone."""
    start = request.light
    if start is None:
        return None
    end = request.light_end or start
    under = shares.ambient_under_stops
    return Levels(
        start=to_thirds(start.exposure_value + under),
        end=to_thirds(end.exposure_value + under),
        dark=to_thirds(darkest(start, end) + under),
        bright=to_thirds(brightest(start, end) + under),
    )


def darkest(start: Ambient, end: Ambient) -> float:
    """Return the lowest exposure value that the set-up may meet."""
    return min(start.dark_exposure_value, end.dark_exposure_value)


def brightest(start: Ambient, end: Ambient) -> float:
    """Return the highest exposure value that the set-up may meet."""
    return max(start.bright_exposure_value, end.bright_exposure_value)


def to_thirds(stops: float) -> int:
    """Return a number of stops as the nearest whole number of thirds."""
    return floor(3.0 * stops + 0.5)


def no_slower_than(seconds: float) -> int:
    """Return the index of the slowest shutter that is not slower than `seconds`."""
    return ceil(-3.0 * log2(seconds) - _TINY)


def no_faster_than(seconds: float) -> int:
    """Return the index of the fastest shutter that is not faster than `seconds`."""
    return floor(-3.0 * log2(seconds) + _TINY)


def _under(flash: Flash) -> float:
    return float(2.0**-flash.ratio_stops)


def _aperture_index(f_number: float, *, dials: Dials) -> int:
    """Return the widest aperture of the lens that is at least so narrow."""
    index = ceil(6.0 * log2(f_number) - _TINY) if f_number > 0.0 else dials.widest
    return min(max(index, dials.widest), dials.narrowest)


def _home(aim: Aim, *, needed: int, diffraction: float, dials: Dials) -> int:
    """Return the aperture that the aim would like best, by index."""
    spare = {
        Aim.FREEZE: 0,
        Aim.THIN_FOCUS: 0,
        Aim.ALL_SHARP: SPARE_ALL_SHARP_THIRDS,
    }.get(aim, SPARE_DEPTH_THIRDS)
    softest = max(needed, floor(6.0 * log2(diffraction)))
    return min(needed + spare, softest, dials.narrowest)
