"""Requests for the tests: a plain one to vary, and random ones of every kind."""

from dataclasses import replace

from hypothesis import strategies as st

from planning.light.solve import (
    Aim,
    Ambient,
    Body,
    Flash,
    FlashMode,
    FlashPurpose,
    Lens,
    Limit,
    LimitName,
    SetUpRequest,
    Subject,
    Suggestion,
    Support,
)

PORTRAIT = SetUpRequest(
    light=Ambient(exposure_value=11.0),
    lens=Lens(focal_length_mm=85.0, widest_f_number=1.8),
    body=Body(),
    subject=Subject(distance_m=3.0),
)


def limit(suggestion: Suggestion, name: LimitName) -> Limit:
    """Return the limit of that name; KeyError if the suggestion has none."""
    return {found.name: found for found in suggestion.limits}[name]


def shifted(request: SetUpRequest, stops: float) -> SetUpRequest:
    """Return the request under light that is so many stops brighter."""

    def lift(light: Ambient | None) -> Ambient | None:
        if light is None:
            return None
        value = min(max(light.exposure_value + stops, -30.0), 30.0)
        return replace(light, exposure_value=value)

    return replace(
        request, light=lift(request.light), light_end=lift(request.light_end)
    )


def _ambients() -> st.SearchStrategy[Ambient]:
    return st.builds(
        Ambient,
        exposure_value=st.floats(-8.0, 18.0),
        low_stops=st.floats(0.0, 3.0),
        high_stops=st.floats(0.0, 3.0),
    )


def _lenses() -> st.SearchStrategy[Lens]:
    return st.builds(
        Lens,
        focal_length_mm=st.sampled_from([14.0, 24.0, 35.0, 50.0, 85.0, 135.0, 400.0]),
        widest_f_number=st.sampled_from([0.95, 1.2, 1.4, 1.8, 2.8, 3.5, 4.0, 5.6]),
        narrowest_f_number=st.sampled_from([16.0, 22.0, 32.0]),
        stabilisation_stops=st.sampled_from([0.0, 2.5, 5.0, 8.0]),
        shortest_focal_length_mm=st.sampled_from([None, 24.0]),
    )


def _bodies() -> st.SearchStrategy[Body]:
    sides = st.sampled_from([(36.0, 24.0), (23.5, 15.6), (17.3, 13.0), (44.0, 33.0)])
    return sides.flatmap(
        lambda side: st.builds(
            Body,
            sensor_width_mm=st.just(side[0]),
            sensor_height_mm=st.just(side[1]),
            base_iso=st.sampled_from([64.0, 100.0, 200.0]),
            highest_iso=st.sampled_from([200.0, 800.0, 6400.0, 51200.0]),
            fastest_shutter_s=st.sampled_from([1.0 / 2000.0, 1.0 / 8000.0]),
            slowest_shutter_s=st.sampled_from([1.0, 30.0]),
            sync_s=st.sampled_from([1.0 / 60.0, 1.0 / 200.0, 1.0 / 250.0]),
        )
    )


def _subjects() -> st.SearchStrategy[Subject]:
    return st.builds(
        Subject,
        distance_m=st.floats(1.2, 40.0),
        people=st.integers(1, 30),
        depth_m=st.floats(0.0, 1.4),
        speed_m_s=st.sampled_from([0.0, 0.05, 1.4, 3.5, 10.0]),
        angle_deg=st.sampled_from([0.0, 45.0, 90.0]),
        background_m=st.sampled_from([None, 60.0, float("inf")]),
    )


def _flashes(*purposes: FlashPurpose) -> st.SearchStrategy[Flash]:
    return st.builds(
        Flash,
        guide_number_m=st.floats(8.0, 80.0),
        distance_m=st.floats(0.7, 12.0),
        power=st.sampled_from([1.0, 0.5]),
        loss_stops=st.floats(0.0, 3.0),
        purpose=st.sampled_from(purposes),
        mode=st.sampled_from(FlashMode),
        key_minus_fill_stops=st.one_of(st.none(), st.floats(-1.0, 4.0)),
        entry_loss_stops=st.sampled_from([None, 1.0, 2.0]),
    )


def _fill_shares() -> st.SearchStrategy[float | None]:
    return st.one_of(st.none(), st.floats(0.0, 0.6))


def ambient_requests() -> st.SearchStrategy[SetUpRequest]:
    """Draw requests without any flash."""
    return st.builds(
        SetUpRequest,
        light=_ambients(),
        light_end=st.one_of(st.none(), _ambients()),
        lens=_lenses(),
        body=_bodies(),
        subject=_subjects(),
        support=st.sampled_from(Support),
        aim=st.sampled_from(Aim),
        fill_share=_fill_shares(),
    )


def flash_requests() -> st.SearchStrategy[SetUpRequest]:
    """Draw requests with one or two flashes, with ambient or alone."""
    second = st.one_of(st.none(), _flashes(FlashPurpose.FILL, FlashPurpose.RIM))
    mixed = st.builds(
        SetUpRequest,
        light=_ambients(),
        light_end=st.one_of(st.none(), _ambients()),
        flash=_flashes(*FlashPurpose),
        second_flash=second,
        lens=_lenses(),
        body=_bodies(),
        subject=_subjects(),
        support=st.sampled_from(Support),
        aim=st.sampled_from(Aim),
        fill_share=_fill_shares(),
    )
    alone = st.builds(
        SetUpRequest,
        light=st.none(),
        flash=_flashes(FlashPurpose.KEY),
        second_flash=second,
        lens=_lenses(),
        body=_bodies(),
        subject=_subjects(),
        support=st.sampled_from(Support),
        aim=st.sampled_from(Aim),
    )
    return st.one_of(mixed, alone)


def any_requests() -> st.SearchStrategy[SetUpRequest]:
    """Draw requests of every kind."""
    return st.one_of(ambient_requests(), flash_requests())
