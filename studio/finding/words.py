"""Words as they are compared: without case, accents or odd signs."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

MOST_WORDS: Final = 8
FEWEST_DIGITS: Final = 4
LONGEST_OWN: Final = 700
LONGEST_PHONE: Final = 40
LONGEST_WHOSE: Final = 400
LONGEST_WORDS: Final = LONGEST_OWN + LONGEST_PHONE + 1 + LONGEST_WHOSE
# An index entry of PostgreSQL has 2,700 bytes at most.
OWN_BYTES: Final = 1_700
WHOSE_BYTES: Final = 800
RUNG: Final = str.maketrans("0123456789", "０１２３４５６７８９")


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What one row is found by, and what the find leads to.

    `own` is what stands in the row itself, `whose` the names of the client `whose_id`
    whom it belongs to. The newest `at` is shown first. `leads_to` is the row that is
    found, where it is another one than the row itself.
    """

    own: tuple[str, ...]
    phone: str = ""
    whose: tuple[str, ...] = ()
    whose_id: int | None = None
    at: datetime | None = None
    leads_to: int | None = None


def folded(text: str) -> str:
    """Return a text as it is compared: ZOË, Zoë and zoe are one.

    Compatibility forms are decomposed, marks dropped and the case folded, as the
    Unicode Standard names it (chapter 3.13, caseless matching).
    """
    apart = unicodedata.normalize("NFKD", text).casefold()
    bare = unicodedata.normalize("NFKD", apart)
    kept = "".join(sign for sign in bare if not unicodedata.combining(sign))
    return " ".join(_printable(kept).split())


def asked(text: str) -> list[str]:
    """Return the words that somebody looks for, each folded; eight at most."""
    return folded(text).split()[:MOST_WORDS]


def asked_number(text: str) -> str:
    """Return a phone number, or a part of one, as it is kept; nothing for words.

    Numbers are stored as +441632960101 and typed as 01632 960101. They are kept in
    full-width digits, which folded words never hold: else 44 in a name would find
    every number of a country.
    """
    if any(sign not in "0123456789+-./() " for sign in text):
        return ""
    digits = "".join(sign for sign in text if sign.isdigit()).lstrip("0")
    return digits.translate(RUNG) if len(digits) >= FEWEST_DIGITS else ""


def columns_of(words: Words, *, pk: int) -> dict[str, Any]:
    """Return how the words of the row `pk` are kept, by column."""
    own = _cut(words.own, LONGEST_OWN, OWN_BYTES)
    own += words.phone[:LONGEST_PHONE].translate(RUNG)
    return {
        "source_id": pk,
        "row_id": words.leads_to or pk,
        "at": words.at,
        "own": own,
        "words": own + whose_words(words.whose),
        "whose_id": words.whose_id,
    }


def whose_words(names: tuple[str, ...]) -> str:
    """Return what follows a row's own words: the names of the client, on a new line."""
    return "\n" + _cut(names, LONGEST_WHOSE, WHOSE_BYTES)


def _cut(parts: tuple[str, ...], signs: int, most_bytes: int) -> str:
    text = folded(" ".join(parts))[:signs]
    return text.encode()[:most_bytes].decode(errors="ignore")


def _printable(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)
