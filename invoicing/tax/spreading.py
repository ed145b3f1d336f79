"""Net figures for the parts of a document of gross prices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from invoicing.tax.model import Document, Pair
from invoicing.tax.parts import Part, parts_of, sums_by_pair, tax_minor
from studio.money import decimal_from_minor, exponent, largest_remainder


@dataclass(frozen=True, slots=True, kw_only=True)
class NetPart:
    """The net figure of a line, an allowance or a charge, and the pair it is in."""

    category: str
    rate: Decimal
    net: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class NetParts:
    """Net figures that add up to the breakdown of the document they came from."""

    lines: tuple[NetPart, ...]
    allowances: tuple[NetPart, ...]
    charges: tuple[NetPart, ...]


def spread(
    document: Document, taxable: Mapping[Pair, Decimal] | None = None
) -> NetParts:
    """Show every part of a document without its tax, so that the sums still hold.

    On a gross basis the taxable sum of each category and rate is divided over its
    lines, allowances and charges by largest remainder: each is within a minor unit of
    its own net. On a net basis the parts are shown as they are. An adjustment that
    concerns several pairs gives one part for each. `taxable` names the sums to divide
    where they were not worked out from the document itself.
    Source: EN 16931 knows net lines only and wants them to add up (BR-CO-10, BR-S-08).
    """
    digits = exponent(document.currency)
    parts = parts_of(document)
    signed = parts.signed()
    if document.price_basis == "gross":
        wanted = {
            pair: int(net.scaleb(digits)) for pair, net in (taxable or {}).items()
        }
        signed = _without_tax(signed, wanted)
    lines, rest = signed[: len(parts.lines)], signed[len(parts.lines) :]
    allowances, charges = rest[: len(parts.allowances)], rest[len(parts.allowances) :]
    return NetParts(
        lines=tuple(_net_part(part, digits) for part in lines),
        allowances=tuple(_net_part(part, digits, sign=-1) for part in allowances),
        charges=tuple(_net_part(part, digits) for part in charges),
    )


def _without_tax(parts: list[Part], wanted: Mapping[Pair, int]) -> list[Part]:
    nets: dict[int, int] = {}
    for pair, taxed in sums_by_pair(parts).items():
        mine = [index for index, part in enumerate(parts) if part.pair == pair]
        target = taxed - tax_minor(taxed=taxed, pair=pair, price_basis="gross")
        exact = [_exact_net(parts[index].minor, pair) for index in mine]
        nets |= zip(mine, largest_remainder(exact, target), strict=True)
        largest = max(mine, key=lambda index: abs(parts[index].minor))
        nets[largest] += wanted.get(pair, target) - target
    return [Part(pair=part.pair, minor=nets[at]) for at, part in enumerate(parts)]


def _exact_net(minor: int, pair: Pair) -> Fraction:
    return minor * 100 / (100 + Fraction(pair[1]))


def _net_part(part: Part, digits: int, *, sign: int = 1) -> NetPart:
    category, rate = part.pair
    net = decimal_from_minor(sign * part.minor, digits)
    return NetPart(category=category, rate=rate, net=net)
