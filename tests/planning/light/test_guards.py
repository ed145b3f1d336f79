import pytest

from planning.light.guards import finite, fraction, not_negative, positive

NOT_NUMBERS = [float("nan"), float("inf"), float("-inf")]


@pytest.mark.parametrize("wrong", [0.0, -0.001, *NOT_NUMBERS])
def test_positive_refuses_zero_and_below(wrong: float) -> None:
    positive(lux=0.001, iso=100)

    with pytest.raises(ValueError, match=f"lux must be above zero, not {wrong}"):
        positive(iso=100, lux=wrong)


@pytest.mark.parametrize("wrong", [-0.001, *NOT_NUMBERS])
def test_not_negative_refuses_what_is_below_zero(wrong: float) -> None:
    not_negative(lux=0.0)

    with pytest.raises(ValueError, match=f"lux must not be negative, not {wrong}"):
        not_negative(lux=wrong)


@pytest.mark.parametrize("wrong", [-0.001, 1.001, *NOT_NUMBERS])
def test_a_fraction_lies_within_nothing_and_the_whole(wrong: float) -> None:
    fraction(power=0.0, share=1.0)

    with pytest.raises(ValueError, match=f"power must lie within 0 to 1, not {wrong}"):
        fraction(power=wrong)


@pytest.mark.parametrize("wrong", NOT_NUMBERS)
def test_finite_refuses_what_is_no_number(wrong: float) -> None:
    finite(angle_deg=-90.0)

    with pytest.raises(ValueError, match=f"angle_deg must be .*{wrong}"):
        finite(angle_deg=wrong)
