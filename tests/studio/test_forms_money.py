from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from studio.forms import MoneyField, StudioForm
from studio.forms.money import AmountError, read_amount
from studio.money import Money


class DepositForm(StudioForm):
    deposit = MoneyField("GBP")


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("400", "400.00"),
        ("400.5", "400.50"),
        ("400,50", "400.50"),
        ("£1,234.50", "1234.50"),
        ("1.234,50", "1234.50"),
        ("1 234,50", "1234.50"),
        ("1’234.50", "1234.50"),
        ("1,234", "1234.00"),
        ("12,34,567.00", "1234567.00"),
        ("1.234.567", "1234567.00"),
        ("GBP 12", "12.00"),
        ("12 gbp", "12.00"),
        ("7.", "7.00"),
        ("−5.00", "-5.00"),
    ],
)
def test_an_amount_is_understood_as_people_write_it(text: str, amount: str) -> None:
    # Ways to part thousands and decimals: Unicode CLDR, locales en, de, fr, de-CH, hi.
    assert str(read_amount(text, "GBP")) == amount


@pytest.mark.parametrize(
    "text",
    ["", "free", "1.234", "0.005", "1,23,4", "1,2,345.6.7", "--5", "1e5", "٣", "5%"],
)
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(AmountError):
        read_amount(text, "GBP")


def test_an_amount_has_the_digits_of_its_currency() -> None:
    # ISO 4217: the yen has no minor unit, the Kuwaiti dinar has three digits.
    assert str(read_amount("1,200", "JPY")) == "1200"
    assert str(read_amount("1.250", "KWD")) == "1.250"
    with pytest.raises(AmountError, match="no smaller unit"):
        read_amount("12.5", "JPY")


def test_an_amount_that_could_be_two_is_not_guessed_at() -> None:
    with pytest.raises(AmountError, match="two amounts"):
        read_amount("1,250", "KWD")


@given(st.integers(min_value=0, max_value=10**12), st.sampled_from(["GBP", "JPY"]))
def test_every_amount_is_read_back_as_it_is_shown(minor: int, currency: str) -> None:
    money = Money.from_minor(minor, currency)

    assert read_amount(f"{money.amount:,}", currency) == money.amount
    assert read_amount(str(MoneyField(currency).prepare_value(money)), currency) == (
        money.amount
    )


def test_less_than_nothing_and_slips_of_the_hand_are_refused() -> None:
    with pytest.raises(ValidationError, match="nothing or more"):
        MoneyField("GBP").clean("-5")
    with pytest.raises(ValidationError, match="too large"):
        MoneyField("GBP").clean("99999999999")
    assert MoneyField("GBP", negative=True).clean("-5") == Decimal("-5.00")


def test_the_box_shows_an_amount_with_all_its_digits_and_its_sign_before_it() -> None:
    form = DepositForm(initial={"deposit": Money(Decimal(400), "GBP")})

    assert 'value="400.00"' in str(form["deposit"])
    assert form.fields["deposit"].before == "£"  # type: ignore[attr-defined]


def test_the_currency_can_be_set_when_the_form_is_made() -> None:
    form = DepositForm({"deposit": "12,5"})
    field = form.fields["deposit"]
    assert isinstance(field, MoneyField)

    field.use_currency("EUR")

    assert form.is_valid()
    assert form.cleaned_data["deposit"] == Decimal("12.50")
    assert field.before == "€"


def test_the_same_amount_written_otherwise_is_no_change() -> None:
    field = MoneyField("GBP")

    assert not field.has_changed(Decimal("400.00"), "400")
    assert field.has_changed(Decimal("400.00"), "401")
    assert field.has_changed(Decimal("400.00"), "x")
