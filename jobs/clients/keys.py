"""How a name and a number are told to be the same, however they are written."""

from __future__ import annotations

import unicodedata
from typing import Final

import phonenumbers

from studio.wording import HOME_REGION

# Letters that no mark can be taken off, as they are written without them.
_PLAIN: Final = str.maketrans(
    {
        "ø": "o",
        "ł": "l",
        "đ": "d",
        "ð": "d",
        "þ": "th",
        "æ": "ae",
        "œ": "oe",
        "ı": "i",
        "&": " and ",
    }
)
_TITLES: Final = frozenset(
    {"mr", "mrs", "ms", "miss", "mx", "dr", "prof", "the", "and", "ltd", "limited"}
)


def name_key(name: str) -> str:
    """Return a name without case, accents, signs, titles or order of its words.

    "Mrs Zoë Thorn-Hale" and "hale, thorn zoe" are the same.
    """
    folded = unicodedata.normalize("NFKD", name.casefold()).translate(_PLAIN)
    plain = "".join(
        sign if sign.isalnum() else " "
        for sign in folded
        if not unicodedata.combining(sign) and sign not in "'’"
    )
    words = sorted(set(plain.split()))
    telling = [word for word in words if word not in _TITLES]
    return " ".join(telling or words)[:400]


def phone_key(number: str) -> str:
    """Return a number as +441632960101, or its digits where it cannot be read so."""
    if not number.strip():
        return ""
    try:
        read = phonenumbers.parse(number, HOME_REGION)
    except phonenumbers.NumberParseException:
        return "".join(sign for sign in number if sign.isdigit())[:40]
    return phonenumbers.format_number(read, phonenumbers.PhoneNumberFormat.E164)[:40]
