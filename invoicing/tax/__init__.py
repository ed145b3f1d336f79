"""Totals, tax per rate, deposits: plain arithmetic without a database.

The names below are the whole surface; see DEVELOPERS.md for who relies on them.
"""

from invoicing.tax.deposits import balance_after_deposits, deposit_split
from invoicing.tax.model import (
    Adjustment,
    BreakdownRow,
    Document,
    Line,
    PriceBasis,
    Totals,
)
from invoicing.tax.spreading import NetPart, NetParts, spread
from invoicing.tax.sums import totals

__all__ = [
    "Adjustment",
    "BreakdownRow",
    "Document",
    "Line",
    "NetPart",
    "NetParts",
    "PriceBasis",
    "Totals",
    "balance_after_deposits",
    "deposit_split",
    "spread",
    "totals",
]
