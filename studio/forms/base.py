"""The base of every form: how it is drawn, and what is tidied before it is read."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Any, ClassVar, Final

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout
from django import forms
from django.core.validators import MaxLengthValidator
from django.utils.text import capfirst

LONGEST_LINE: Final = 200
LONGEST_TEXT: Final = 5_000
DJANGO_ROWS: Final = "10"
ROWS: Final = "4"
DRAWN: Final = {"before": "", "after": "", "unmarked": False, "echoes": False}
"""What the pack asks of every field; an answer that is missing is slow to find out."""
_JOINERS: Final = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
_DROPPED: Final = {"Cc", "Cf", "Cs", "Co", "Cn"}


def page_helper(*layout: object, summary: bool = True) -> FormHelper:
    """Return a helper that draws fields only: the page owns the form, token, buttons.

    With `summary` the fields stand under a list of what is wrong. A page that has more
    than one form, or its fields in several sheets, draws the list itself.
    """
    helper = FormHelper()
    helper.form_tag = False
    helper.disable_csrf = True
    helper.include_media = False
    helper.summary = summary
    if layout:
        helper.layout = Layout(*layout)
    return helper


def tidy_text(text: str, *, lines: bool = False) -> str:
    """Return text without signs that are not written: controls, direction overrides.

    Line ends become plain ones; a single line has none. Letters stay as they came.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = text.replace("\N{LINE SEPARATOR}", "\n").replace("\u2029", "\n")
    text = text.replace("\t", " ")
    if not lines:
        text = text.replace("\n", " ")
    return "".join(sign for sign in text if _is_written(sign))


class StudioForm(forms.Form):
    """A form drawn by our pack, whose text fields have a limit and no odd signs.

    `layout` orders the fields on the page; without it they follow one another.
    """

    layout: ClassVar[tuple[object, ...]] = ()
    summary: ClassVar[bool] = True
    use_required_attribute = False

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        for name, field in self.fields.items():
            field.__dict__.update(DRAWN | field.__dict__)
            _say_what_is_missing(name, field)
            if isinstance(field, forms.CharField):
                _limit_length(field)
            if field.widget.attrs.get("rows") == DJANGO_ROWS:
                field.widget.attrs["rows"] = ROWS

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form."""
        return page_helper(*(self.layout or self.fields), summary=self.summary)

    def _widget_data_value(self, widget: forms.Widget, html_name: str) -> Any:
        # The one place where Django reads what was posted, both to clean it and to
        # show it again.
        value = widget.value_from_datadict(self.data, self.files, html_name)
        if isinstance(value, str) and not isinstance(widget, forms.PasswordInput):
            return tidy_text(value, lines=isinstance(widget, forms.Textarea))
        return value


class HintedRadios(forms.RadioSelect):
    """Radio buttons with a line of help under the choices that have one."""

    def __init__(self, hints: Mapping[str, str], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.hints = dict(hints)

    def create_option(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """Return an option with the hint for its value."""
        option = super().create_option(*args, **kwargs)
        option["hint"] = self.hints.get(str(option["value"]), "")
        return option


def _is_written(sign: str) -> bool:
    if sign in _JOINERS or sign == "\n":
        return True
    return unicodedata.category(sign) not in _DROPPED


def _say_what_is_missing(name: str, field: forms.Field) -> None:
    label = field.label or capfirst(name.replace("_", " "))
    usual = forms.Field.default_error_messages["required"]
    if str(field.error_messages.get("required")) != str(usual):
        return
    if str(label).endswith("?"):
        verb = "Answer"
    else:
        verb = "Choose" if isinstance(field, forms.ChoiceField) else "Fill in"
    field.error_messages["required"] = f"{verb} “{label}”."


def _limit_length(field: forms.CharField) -> None:
    if field.max_length is None:
        long = isinstance(field.widget, forms.Textarea)
        field.max_length = LONGEST_TEXT if long else LONGEST_LINE
        field.validators.append(MaxLengthValidator(field.max_length))
    if not field.widget.is_hidden:
        field.widget.attrs.setdefault("maxlength", str(field.max_length))
