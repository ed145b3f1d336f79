"""Countries by their letters and names."""

import pytest

from studio.countries import (
    countries,
    country_choices,
    country_in,
    country_name,
    surely_in,
)


def test_every_country_of_the_standard_is_there_and_nothing_else_but_one() -> None:
    # ISO 3166-1 has 249 countries (from memory); XK is not of the standard, but EN
    # 16931 takes it for Kosovo.
    assert len(countries()) == 249 + 1
    assert {"GB", "IE", "DE", "NO", "GR", "XK"} <= countries().keys()
    assert not {"EU", "UK", "EL", "XI", "ZZ"} & countries().keys()
    assert country_choices()[0] == ("", "Not said")


def test_a_name_is_english_and_unknown_letters_stand_as_they_are() -> None:
    assert country_name("DE") == "Germany"
    assert country_name("QQ") == "QQ"


@pytest.mark.parametrize(
    ("address", "country"),
    [
        ("1 Mill Street\nKöln\nGermany", "DE"),
        ("1 Mill Street\nKöln\nDE", "DE"),
        ("2 Quay Row\nLeith\nScotland.", "GB"),
        ("2 Quay Row\nLeith", ""),
        ("", ""),
    ],
)
def test_an_address_may_end_with_its_country(address: str, country: str) -> None:
    assert country_in(address) == country


@pytest.mark.parametrize(
    ("address", "country"),
    [
        ("1 Mill Street\nKöln\nGermany", "DE"),
        # The letters of Germany are those of Delaware, and Georgia is two places.
        ("1 Mill Street\nDover\nDE", ""),
        ("1 Peach Street\nAtlanta\nGeorgia", ""),
        ("Germany", ""),
    ],
)
def test_only_what_is_certain_is_filled_in(address: str, country: str) -> None:
    assert surely_in(address) == country
