import pytest
from django.core.exceptions import ValidationError

from studio.forms import PhoneField
from studio.forms.phones import read_phone
from studio.wording import phone_words

# 01632 960000 to 960999 are set aside for drama: Ofcom, numbers for TV and radio.


@pytest.mark.parametrize(
    "text", ["01632 960118", "(01632) 960118", "+44 1632 960118", "0044 1632 960118"]
)
def test_a_number_is_kept_in_its_international_form(text: str) -> None:
    # ITU-T E.164: country code 44, then the number without its trunk prefix 0.
    assert read_phone(text) == "+441632960118"


def test_a_number_is_shown_as_it_is_dialled_from_home() -> None:
    assert phone_words("+441632960118") == "01632 960118"
    assert phone_words("+441632960118", "DE") == "+44 1632 960118"


@pytest.mark.parametrize("text", ["01632 960118 ext 12", "960118", "999"])
def test_a_sane_text_that_is_no_full_number_stays_as_typed(text: str) -> None:
    kept = read_phone(text)

    assert kept is not None
    assert kept == text or kept.startswith("+44")


@pytest.mark.parametrize("text", ["", "12", "ring the bell", "01632 <b>960118", "----"])
def test_what_is_no_number_is_refused(text: str) -> None:
    assert read_phone(text) is None


def test_the_field_takes_nothing_where_nothing_is_asked() -> None:
    assert PhoneField(required=False).clean("") == ""
    with pytest.raises(ValidationError, match="in figures"):
        PhoneField().clean("call me")


def test_the_region_decides_what_a_number_without_a_plus_means() -> None:
    # Germany, code 49: the leading 0 is a trunk prefix there too (ITU-T E.164).
    assert PhoneField(region="DE").clean("030 12345678") == "+493012345678"
