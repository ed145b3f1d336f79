import pytest
from hypothesis import given
from hypothesis import strategies as st

from planning.light.colour import filter_stops, mired, mired_shift

KELVINS = st.floats(1500.0, 20000.0)


def test_a_mired_is_a_million_over_the_kelvins() -> None:
    assert mired(5000.0) == pytest.approx(200.0)
    assert mired(3200.0) == pytest.approx(312.5)


@pytest.mark.parametrize(
    ("from_k", "to_k", "shift"), [(5000.0, 6000.0, -33.3), (5500.0, 3200.0, 130.7)]
)
def test_a_shift_is_the_difference_of_mireds(
    from_k: float, to_k: float, shift: float
) -> None:
    # 5000 to 6000 K is 33 mireds in published tables; the second by hand.
    found = mired_shift(from_k=from_k, to_k=to_k)

    assert found == pytest.approx(shift, abs=0.05)


@given(first=KELVINS, second=KELVINS, third=KELVINS)
def test_stacked_filters_add(first: float, second: float, third: float) -> None:
    stacked = mired_shift(from_k=first, to_k=second) + mired_shift(
        from_k=second, to_k=third
    )

    assert stacked == pytest.approx(mired_shift(from_k=first, to_k=third), abs=1e-9)


@pytest.mark.parametrize(
    ("density", "stops"), [(0.3, 0.997), (0.9, 2.990), (3.0, 9.966), (0.0, 0.0)]
)
def test_a_density_of_three_tenths_is_a_stop(density: float, stops: float) -> None:
    # Density/log10(2), the definition of optical density.
    assert filter_stops(density) == pytest.approx(stops, abs=0.0005)


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan")])
def test_a_colour_or_filter_that_cannot_be_is_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match=str(wrong)):
        mired(wrong)
    with pytest.raises(ValueError, match=str(wrong)):
        mired_shift(from_k=5000.0, to_k=wrong)
    with pytest.raises(ValueError, match="-0"):
        filter_stops(-0.1)
