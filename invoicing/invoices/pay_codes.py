"""What helps a client to pay without a slip: a reference with check digits, a code.

Sources: ISO 11649 (structured creditor reference), EPC069-12 version 2.1 (code for a
SEPA credit transfer).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

import segno
from stdnum.iso7064 import mod_97_10

from studio.money import Money
from studio.scene.words import one_line

LONGEST_REFERENCE: Final = 21
LONGEST_NAME: Final = 70
LONGEST_CODE: Final = 331
HIGHEST: Final = Decimal("999999999.99")


def creditor_reference(number: str) -> str:
    """Return the reference RF.. of a paper's number; empty if it cannot be one."""
    bare = re.sub(r"[^A-Z0-9]", "", number.upper())
    if not 1 <= len(bare) <= LONGEST_REFERENCE:
        return ""
    return f"RF{mod_97_10.calc_check_digits(f'{bare}RF')}{bare}"


def in_fours(compact: str) -> str:
    """Return a reference as it is printed: in groups of four."""
    return " ".join(compact[at : at + 4] for at in range(0, len(compact), 4))


def transfer_code(
    seller: Mapping[str, Any], *, due: Money, reference: str, text: str
) -> str:
    """Return the words of the code for a transfer; empty where there can be none.

    Only for euros that are due, to an account with an IBAN. The reference goes before
    the text: a code has one or the other.
    """
    name = _clean(seller["account_name"] or seller["owner_name"])[:LONGEST_NAME].strip()
    iban = _compact(seller["iban"])
    if due.currency != "EUR" or not 0 < due.amount <= HIGHEST or not (name and iban):
        return ""
    remittance = [reference] if reference else ["", _clean(text)]
    lines = ["BCD", "002", "1", "SCT", _compact(seller["bic"]), name, iban]
    amount = f"EUR{due.amount.normalize():f}"
    code = "\n".join([*lines, amount, "", *remittance])
    return code if len(code.encode()) <= LONGEST_CODE else ""


def modules_of(code: str) -> tuple[tuple[bool, ...], ...]:
    """Return the dark and light modules of a code, row by row, without its border."""
    made = segno.make_qr(
        code.encode(), error="m", boost_error=False, encoding=None, mode="byte"
    )
    return tuple(tuple(map(bool, row)) for row in made.matrix)


def _clean(words: str) -> str:
    """Return words on one line: a line feed would begin the code's next element."""
    return re.sub(r"\s+", " ", re.sub(r"[\x00-\x1f\x7f]", " ", one_line(words))).strip()


def _compact(written: str) -> str:
    return re.sub(r"[^A-Z0-9]", "", written.upper())
