"""Countries by their two letters (ISO 3166-1 alpha-2) and their English names."""

from __future__ import annotations

from functools import cache
from typing import Final

from babel import Locale

from studio.wording import LOCALE

# Babel's groups and places that ISO 3166-1 has no letters of its own for.
_NONE: Final = frozenset(
    {"AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "ZZ"}
)
_OF_UK: Final = (
    *("uk", "england", "scotland", "wales", "northern ireland", "great britain"),
)
# Names that a place elsewhere has too, so that an address alone does not tell.
_SHARED: Final = frozenset({"georgia", "jersey", "lebanon", "jordan"})


@cache
def countries() -> dict[str, str]:
    """Return the English name of each country by its letters, in order of names."""
    named = {code: str(said) for code, said in Locale.parse(LOCALE).territories.items()}
    kept = {
        code: said
        for code, said in named.items()
        if len(code) == 2 and code.isalpha() and code not in _NONE
    }
    return dict(sorted(kept.items(), key=lambda one: one[1]))


def country_name(code: str) -> str:
    """Return a country's English name; the letters themselves if nobody knows them."""
    return countries().get(code, code)


def country_choices() -> list[tuple[str, str]]:
    """Return what a list to choose from shows, an empty entry first."""
    return [("", "Not said"), *countries().items()]


def country_of(words: str) -> str:
    """Return the letters of a country by its name or letters; empty if it is none."""
    return _by_words().get(words.strip().casefold().rstrip("."), "")


def country_in(address: str) -> str:
    """Return the letters of the country that an address ends with, if it does."""
    lines = [line.strip() for line in address.splitlines() if line.strip()]
    return country_of(lines[-1]) if lines else ""


def surely_in(address: str) -> str:
    """Return the country of an address that ends with a name that is only that."""
    lines = [line.strip() for line in address.splitlines() if line.strip()]
    if len(lines) < 2 or len(lines[-1]) <= 2 or lines[-1].casefold() in _SHARED:
        return ""
    return country_of(lines[-1])


@cache
def _by_words() -> dict[str, str]:
    found = {said.casefold(): code for code, said in countries().items()}
    found |= {code.casefold(): code for code in countries()}
    return found | dict.fromkeys(_OF_UK, "GB")
