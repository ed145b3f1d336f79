"""Forms: their base, the fields that understand how people write, and the layout."""

from studio.forms.base import HintedRadios, StudioForm, page_helper, tidy_text
from studio.forms.days import DateField, TimeField
from studio.forms.headings import Heading, HeadingField, read_heading
from studio.forms.instants import LocalDateTime, Which, WhichField, local_instant
from studio.forms.layout import branch, group, pair, row, wide
from studio.forms.lines import more_lines, row_field, studio_lines
from studio.forms.money import MoneyField
from studio.forms.phones import PhoneField
from studio.forms.places import CoordinatesField

__all__ = [
    "CoordinatesField",
    "DateField",
    "Heading",
    "HeadingField",
    "HintedRadios",
    "LocalDateTime",
    "MoneyField",
    "PhoneField",
    "StudioForm",
    "TimeField",
    "Which",
    "WhichField",
    "branch",
    "group",
    "local_instant",
    "more_lines",
    "page_helper",
    "pair",
    "read_heading",
    "row",
    "row_field",
    "studio_lines",
    "tidy_text",
    "wide",
]
