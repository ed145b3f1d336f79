"""Phone numbers: kept as E.164 where they can be read, as typed where they are sane."""

import re
from typing import Any, Final

import phonenumbers
from django import forms
from django.core.exceptions import ValidationError

from studio.wording import HOME_REGION, phone_words

LONGEST: Final = 40
_SANE: Final = re.compile(
    r"[0-9+(][0-9 ()+./\-]*(?:\s*(?:x|ext|extension)\.?\s*\d{1,6})?", re.IGNORECASE
)
_FEWEST_DIGITS: Final = 3


def read_phone(text: str, region: str = HOME_REGION) -> str | None:
    """Return a number as +441632960101, or as typed where it is sane, else None.

    An extension has no place in E.164, so a number with one stays as typed.
    """
    text = " ".join(text.split())
    if sum(sign.isdigit() for sign in text) < _FEWEST_DIGITS:
        return None
    if not _SANE.fullmatch(text):
        return None
    try:
        number = phonenumbers.parse(text, region)
    except phonenumbers.NumberParseException:
        return text
    if number.extension or not phonenumbers.is_possible_number(number):
        return text
    return phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)


class PhoneField(forms.CharField):
    """A phone number of any country; without one, of the studio's own."""

    default_error_messages = {
        "invalid": "Write a phone number in figures, such as 01632 960101."
    }

    def __init__(self, *, region: str = HOME_REGION, **kwargs: Any) -> None:
        attrs = {"type": "tel", "autocomplete": "tel", "class": "width-20"}
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        kwargs.setdefault("max_length", LONGEST)
        super().__init__(**kwargs)
        self.region = region

    def to_python(self, value: Any) -> str:
        """Return the number to store; an empty text where none was given."""
        text = super().to_python(value) or ""
        if not text:
            return ""
        number = read_phone(text, self.region)
        if number is None:
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return number

    def prepare_value(self, value: Any) -> Any:
        """Return the number as people write it."""
        return phone_words(value, self.region) if isinstance(value, str) else value
