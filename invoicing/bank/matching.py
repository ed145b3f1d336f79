"""What a line of the bank is probably for, with the reason in words.

Nothing is settled by itself: a proposal is shown, and somebody presses.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

LEAST_NAME: Final = 3
_CREDITOR: Final = re.compile(r"RF[0-9]{2}[A-Z0-9]{1,21}")
_NOT_NAMES: Final = frozenset({"and", "the", "ltd", "limited", "mrs", "miss", "gmbh"})


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenPaper:
    """An invoice with something still to be paid, or a deposit that is waited for."""

    pk: int
    number: str
    references: tuple[str, ...]
    client_id: int
    client: str
    balance_minor: int
    is_draft: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """Which papers a line settles, and with how much. `is_sure` by name and sum."""

    papers: tuple[OpenPaper, ...]
    shares: tuple[int, ...]
    reason: str
    is_sure: bool


def propose(
    amount_minor: int, text: str, party: str, papers: Sequence[OpenPaper]
) -> Proposal | None:
    """Return the best proposal for money that came in; None if nothing fits.

    The number in the text comes first, then the sum with the name, then several
    invoices of one client, then the sum alone.
    """
    named = [paper for paper in papers if _is_named(paper, text)]
    if named:
        return _by_number(amount_minor, named)
    of_name = [paper for paper in papers if _fits_name(paper.client, f"{party} {text}")]
    same = [paper for paper in of_name if paper.balance_minor == amount_minor]
    if len(same) == 1:
        return _whole(same, "Same sum, and the name fits", is_sure=True)
    if several := _together(amount_minor, of_name):
        return _whole(several, "The sum of what this client owes", is_sure=True)
    same = [paper for paper in papers if paper.balance_minor == amount_minor]
    if len(same) == 1:
        return _whole(same, "Same sum; look at the name", is_sure=False)
    if len(of_name) == 1 and not of_name[0].is_draft:
        return _one(amount_minor, of_name[0], "The name fits; the sum does not")
    return None


def _by_number(amount_minor: int, named: list[OpenPaper]) -> Proposal:
    owed = sum(paper.balance_minor for paper in named)
    numbers = " and ".join(paper.number for paper in named)
    if owed == amount_minor:
        return _whole(named, f"Names {numbers} and pays it whole", is_sure=True)
    if len(named) == 1:
        what = "more than" if amount_minor > owed else "a part of"
        return _one(amount_minor, named[0], f"Names {numbers} and pays {what} it")
    left, shares = amount_minor, []
    for paper in named:
        shares.append(min(left, paper.balance_minor))
        left -= shares[-1]
    kept = [(paper, share) for paper, share in zip(named, shares, strict=True) if share]
    return Proposal(
        papers=tuple(paper for paper, _ in kept),
        shares=tuple(share for _, share in kept),
        reason=f"Names {numbers}; the sum differs",
        is_sure=False,
    )


def _whole(papers: Sequence[OpenPaper], reason: str, *, is_sure: bool) -> Proposal:
    return Proposal(
        papers=tuple(papers),
        shares=tuple(paper.balance_minor for paper in papers),
        reason=reason,
        is_sure=is_sure and not (len(papers) > 1 and any(p.is_draft for p in papers)),
    )


def _one(amount_minor: int, paper: OpenPaper, reason: str) -> Proposal:
    share = min(amount_minor, paper.balance_minor)
    return Proposal(papers=(paper,), shares=(share,), reason=reason, is_sure=False)


def _together(amount_minor: int, papers: Iterable[OpenPaper]) -> list[OpenPaper] | None:
    of_client: dict[int, list[OpenPaper]] = defaultdict(list)
    for paper in papers:
        if not paper.is_draft:
            of_client[paper.client_id].append(paper)
    for owned in of_client.values():
        if len(owned) > 1 and sum(one.balance_minor for one in owned) == amount_minor:
            return owned
    return None


def _is_named(paper: OpenPaper, text: str) -> bool:
    """Say whether the text holds the paper's number, whatever stands between signs."""
    said = re.sub(r"[^A-Z0-9]+", " ", text.upper())
    return any(
        re.search(_pattern(reference), said)
        for reference in filter(None, paper.references)
    )


def _pattern(reference: str) -> str:
    """Return what finds a number, whatever parts its signs; not inside a longer one."""
    if _CREDITOR.fullmatch(reference):  # parted in fours, or not at all
        return r"(?<![A-Z0-9])" + " ?".join(reference) + r"(?![A-Z0-9])"
    parts = re.findall(r"[A-Z]+|[0-9]+", reference.upper())
    before = "[0-9]" if parts[0].isdigit() else "[A-Z]"
    return rf"(?<!{before})" + " ?".join(parts) + "(?![0-9])"


def _fits_name(client: str, said: str) -> bool:
    return bool(_main_words(client) & _words(said))


def _main_words(client: str) -> set[str]:
    """Return the last name of a person, and the longest word of a firm."""
    words = [word for word in _plain(client).split() if word in _words(client)]
    return {words[-1], max(words, key=len)} if words else set()


def _words(text: str) -> set[str]:
    return {
        word
        for word in _plain(text).split()
        if len(word) >= LEAST_NAME and word not in _NOT_NAMES
    }


def _plain(text: str) -> str:
    bare = unicodedata.normalize("NFKD", text.casefold())
    letters = (sign for sign in bare if not unicodedata.combining(sign))
    return "".join(sign if sign.isalnum() else " " for sign in letters)
