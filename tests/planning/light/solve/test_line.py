from dataclasses import replace

import pytest
from hypothesis import given

from planning.light.exposure import APERTURE_THIRDS, ISO_THIRDS
from planning.light.solve import Aim, SetUpRequest, Subject
from planning.light.solve.line import draw_line
from planning.light.solve.scene import read_scene
from tests.planning.light.solve.cases import PORTRAIT, any_requests

GROUP = replace(PORTRAIT, subject=Subject(distance_m=4.0, depth_m=0.65, people=4))


def named(request: SetUpRequest) -> dict[str, str]:
    """The places that a line names, by their settings."""
    line = draw_line(read_scene(request))
    places = {
        "start": 0,
        "home": line.home,
        "comfort": line.comfort,
        "end": line.end,
        "last": len(line.places) - 1,
    }
    return {
        name: f"{APERTURE_THIRDS.at(line.places[place][0]).nominal} "
        f"{ISO_THIRDS.at(line.places[place][1]).nominal}"
        for name, place in places.items()
    }


@given(request=any_requests())
def test_every_step_takes_a_third_of_a_stop_more_and_iso_never_falls(
    request: SetUpRequest,
) -> None:
    line = draw_line(read_scene(request))

    gains = [line.gain(place) for place in range(len(line.places))]
    isos = [iso for _, iso in line.places]

    assert gains == list(range(gains[0], gains[0] + len(gains)))
    assert isos == sorted(isos)
    assert 0 <= line.home <= line.comfort <= line.end < len(line.places)
    assert [line.place_for(gain) for gain in gains] == list(range(len(gains)))


# The group of 0.65 m at 4 m with 85 mm needs f/5.2, so f/5.6 of the third stops; what
# each aim likes and gives up first is common practice, no source.


def test_a_balanced_set_up_likes_a_stop_of_depth_to_spare() -> None:
    assert named(GROUP) == {
        "start": "f/22 ISO 100",
        "home": "f/8 ISO 100",
        "comfort": "f/8 ISO 400",
        "end": "f/5.6 ISO 6400",
        "last": "f/5.6 ISO 6400",
    }


def test_low_noise_opens_the_aperture_before_it_raises_iso() -> None:
    request = replace(GROUP, aim=Aim.LOW_NOISE)
    line = draw_line(read_scene(request))

    assert named(request)["home"] == "f/8 ISO 100"
    assert named(request)["comfort"] == "f/8 ISO 100"
    assert (line.places[line.home + 3]) == (15, 0)  # f/5.6, still ISO 100
    assert named(request)["end"] == "f/5.6 ISO 6400"


def test_all_sharp_likes_two_stops_to_spare() -> None:
    assert named(replace(GROUP, aim=Aim.ALL_SHARP)) == {
        "start": "f/22 ISO 100",
        "home": "f/11 ISO 100",
        "comfort": "f/11 ISO 400",
        "end": "f/5.6 ISO 6400",
        "last": "f/5.6 ISO 6400",
    }


@pytest.mark.parametrize("aim", [Aim.THIN_FOCUS, Aim.FREEZE])
def test_thin_focus_and_freezing_stay_at_the_aperture_needed(aim: Aim) -> None:
    places = named(replace(GROUP, aim=aim))

    assert places["home"] == "f/5.6 ISO 100"
    assert places["comfort"] == "f/5.6 ISO 400"
    assert places["end"] == "f/5.6 ISO 6400"


def test_only_freezing_goes_on_to_the_widest_aperture() -> None:
    assert named(replace(GROUP, aim=Aim.FREEZE))["last"] == "f/1.8 ISO 6400"
    assert named(replace(GROUP, aim=Aim.THIN_FOCUS))["last"] == "f/5.6 ISO 6400"


def test_depth_to_spare_stops_short_of_diffraction() -> None:
    # 0.02884 mm over 2.44 x 0.55 um x (1 + m) is f/21: so f/20 is the last that a wish
    # may take; the group's own need may go further.
    deep = replace(GROUP.subject, depth_m=1.7)

    assert named(replace(GROUP, subject=deep, aim=Aim.ALL_SHARP))["home"] == (
        "f/20 ISO 100"
    )
    assert named(replace(GROUP, subject=deep))["home"] == "f/20 ISO 100"
    deeper = replace(GROUP.subject, depth_m=2.4)
    assert named(replace(GROUP, subject=deeper))["home"] == "f/22 ISO 100"


def test_comfort_stays_under_what_the_owner_likes() -> None:
    body = replace(GROUP.body, highest_iso=200.0)

    assert named(replace(GROUP, body=body))["comfort"] == "f/8 ISO 200"
