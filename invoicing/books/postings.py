"""What the journal is made of: entries, and the postings of each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from invoicing.books.accounts import Account


@dataclass(frozen=True, slots=True, kw_only=True)
class Posting:
    """One side of an entry: `minor` above zero is a debit, below zero a credit."""

    account: Account
    minor: int
    tax_code: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One event of the books; its postings sum to zero."""

    key: str
    on: date
    document_type: str
    document_number: str
    party: str
    postings: tuple[Posting, ...]
    memo: str = ""

    def __post_init__(self) -> None:
        if off := sum(posting.minor for posting in self.postings):
            raise ValueError(f"entry {self.key} is off by {off}")


def signed(postings: Iterable[Posting], sign: int) -> tuple[Posting, ...]:
    """Return the postings that move anything, with `sign` -1 the other way round."""
    return tuple(
        Posting(account=one.account, minor=sign * one.minor, tax_code=one.tax_code)
        for one in postings
        if one.minor
    )
