"""How fields stand on a page: rows, pairs, groups, and what follows from a choice."""

from crispy_forms.layout import Div, Field, Fieldset, Row


def row(*parts: object) -> Row:
    """Set fields side by side on twelve columns; each takes six unless made `wide`."""
    return Row(*parts)


def wide(name: str, span: int = 6, *, box: int = 0) -> Field:
    """Let a field of a row take so many of the twelve columns.

    `box` sets the width of its box by the length of the answer: 2, 4, 6, 10, 20 signs.
    """
    classes = {"css_class": f"width-{box}"} if box else {}
    return Field(name, wrapper_class=f"span-{span}", **classes)


def pair(*parts: object) -> Div:
    """Set two fields side by side, on a phone too."""
    return Div(*parts, css_class="pair")


def branch(*parts: object) -> Div:
    """Set fields in under a rule: they follow from the choice above them."""
    return Div(*parts, css_class="branch")


def group(legend: str, *parts: object) -> Fieldset:
    """Set fields together under a legend."""
    return Fieldset(legend, *parts)
