"""A voucher's code: hard to guess, easy to read aloud, and misreadings are noticed.

Eleven random signs and a check sign, in three groups of four. The signs leave out
0 and O, 1 and I. The check is the hybrid system of ISO 7064 over these 32 signs.
"""

from __future__ import annotations

import secrets
from typing import Final

from stdnum.iso7064 import mod_37_36

SIGNS: Final = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
LENGTH: Final = 12
_GROUP: Final = 4


def new_code() -> str:
    """Return a code that nobody can guess: 55 bits of chance and a check sign."""
    drawn = "".join(secrets.choice(SIGNS) for _ in range(LENGTH - 1))
    return drawn + mod_37_36.calc_check_digit(drawn, alphabet=SIGNS)


def grouped(code: str) -> str:
    """Return a code as it is printed and read aloud, in groups of four."""
    return "-".join(code[at : at + _GROUP] for at in range(0, len(code), _GROUP))


def read_code(typed: str) -> str:
    """Return the code that was typed, without what parts its groups.

    Raises ValueError with a sentence for whoever typed it.
    """
    code = "".join(sign for sign in typed.upper() if sign.isalnum())
    if strange := sorted({sign for sign in code if sign not in SIGNS}):
        raise ValueError(
            f"A voucher’s code holds no {' or '.join(strange)}. Look at it again: "
            "0 and O, 1 and I are never used."
        )
    if len(code) != LENGTH:
        raise ValueError(f"A voucher’s code has {LENGTH} signs; this has {len(code)}.")
    if not mod_37_36.is_valid(code, alphabet=SIGNS):
        raise ValueError("One sign of the code is wrong. Read it again.")
    return code
