"""Numbers that carry their own check: tax numbers, IBAN, BIC, sort codes."""

from __future__ import annotations

import re
from typing import Final

from stdnum import bic, get_cc_module, iban
from stdnum.exceptions import ValidationError

_SORT_CODE: Final = re.compile(r"\d{6}")


class NumberError(ValueError):
    """A number cannot be right; the message says what to look at."""


def read_tax_number(text: str) -> str:
    """Return a tax number as typed, tidied; its check digits are looked at where the
    first two letters name a country whose rule is known. Errors: NumberError."""
    tidy = " ".join(text.upper().split())
    module = get_cc_module(tidy[:2].lower(), "vat") if tidy[:2].isalpha() else None
    if module is not None and not module.is_valid(tidy):
        raise NumberError(
            "A digit of this number seems wrong. Compare it with your certificate."
        )
    return tidy


def read_iban(text: str) -> str:
    """Return an IBAN in groups of four, its check digits looked at. NumberError."""
    try:
        return str(iban.format(iban.validate(text)))
    except ValidationError as fault:
        raise NumberError(
            "A sign of this IBAN seems wrong. Compare it with a bank statement."
        ) from fault


def read_bic(text: str) -> str:
    """Return a BIC in capitals. Errors: NumberError."""
    try:
        return str(bic.validate(text))
    except ValidationError as fault:
        raise NumberError(
            "A BIC has 8 or 11 signs, such as the one on a bank statement."
        ) from fault


def read_sort_code(text: str) -> str:
    """Return a sort code as 00-00-00. Errors: NumberError."""
    digits = re.sub(r"[\s-]", "", text)
    if not _SORT_CODE.fullmatch(digits):
        raise NumberError("A sort code has 6 digits, such as 00-00-00.")
    return "-".join((digits[:2], digits[2:4], digits[4:]))


def read_account_number(text: str, *, with_sort_code: bool) -> str:
    """Return an account number without spaces; eight digits go with a sort code.

    Banks write shorter British numbers with noughts in front: common practice, no
    source. Errors: NumberError.
    """
    bare = re.sub(r"[\s.-]", "", text)
    if with_sort_code and not re.fullmatch(r"\d{8}", bare):
        raise NumberError("An account number has 8 digits; put 0 before a shorter one.")
    if not re.fullmatch(r"[0-9A-Za-z]{4,34}", bare):
        raise NumberError("Write the account number in figures, as the bank does.")
    return bare.upper()
