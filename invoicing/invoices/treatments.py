"""How supplies are treated for tax: by rate, or in a category that bears no tax.

The codes are those of UNTDID 5305 as EN 16931 uses them. Which one is right is for
local rules and whoever advises the studio; nothing here decides it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from invoicing.invoices.content import Content, ContentLine
from studio.profile.models import StudioProfile, TaxCategory

SHORT: Final[dict[str, str]] = {
    TaxCategory.EXEMPT: "Exempt",
    TaxCategory.REVERSE: "Reverse charge",
    TaxCategory.EXPORT: "Export",
    TaxCategory.OUTSIDE: "Outside scope",
}
"""What stands in the place of a rate."""

_WORDS: Final[dict[str, str]] = {
    TaxCategory.ZERO: "zero_words",
    TaxCategory.EXEMPT: "exempt_words",
    TaxCategory.REVERSE: "reverse_words",
    TaxCategory.EXPORT: "export_words",
    TaxCategory.OUTSIDE: "outside_words",
}


def settled(
    lines: Iterable[ContentLine], *, treatment: str, profile: StudioProfile
) -> tuple[ContentLine, ...]:
    """Return lines that each say their own category, under that of their paper.

    A line by rate says none; without a rate it is what the studio chose for that.
    """
    return tuple(_settled(line, treatment, profile) for line in lines)


def under(content: Content, profile: StudioProfile) -> Content:
    """Return content as the studio may issue it: outside of tax, all in one category.

    Lines that still carry tax are left as they are; they are refused elsewhere.
    """
    if profile.tax_registered:
        lines = settled(content.lines, treatment=content.treatment, profile=profile)
        return content.with_lines(lines)
    category = profile.unregistered_category
    lines = tuple(
        line if line.rate else replace(line, treatment=category)
        for line in content.lines
    )
    off = tuple(
        one if one.tax_rate_basis_points else replace(one, category=category)
        for one in content.deductions
    )
    return replace(content, lines=lines, deductions=off, treatment=category)


def wording(content: Content, profile: StudioProfile) -> dict[str, str]:
    """Return what a paper says of each category in use that has words of its own."""
    if not profile.tax_registered:
        return {
            category: profile.unregistered_words
            for category in content.categories
            if profile.unregistered_words
        }
    return {
        category: words_of(category, profile)
        for category in sorted(content.categories)
        if words_of(category, profile)
    }


def words_of(category: str, profile: StudioProfile) -> str:
    """Return the studio's words for a category; none for the standard one."""
    name = _WORDS.get(category)
    return str(getattr(profile, name)) if name else ""


def _settled(line: ContentLine, treatment: str, profile: StudioProfile) -> ContentLine:
    standard = str(TaxCategory.STANDARD)
    own = line.treatment or treatment
    if own not in {"", standard}:
        return replace(line, treatment=own)
    if line.tax_rate_basis_points:
        differs = treatment not in {"", standard}
        return replace(line, treatment=standard if differs else "")
    said = line.treatment == standard
    return replace(line, treatment=standard if said else profile.untaxed_category)
