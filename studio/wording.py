"""How figures read on our pages and papers: money, days and phone numbers."""

from datetime import date
from decimal import Decimal
from typing import Final

import phonenumbers
from babel.numbers import format_currency, get_currency_symbol

from studio.money import Money, exponent

LOCALE: Final = "en_GB"
HOME_REGION: Final = "GB"
MINUS: Final = "\N{MINUS SIGN}"
_NO_BREAK_SPACE: Final = "\N{NO-BREAK SPACE}"


def money_words(value: Money, *, sign: bool = True) -> str:
    """Return an amount as it is read: £1,234.50, −£5.00, CHF 5.00.

    The digits after the point are ISO 4217's, which differ from a locale's custom.
    """
    pattern = _pattern(value.currency, sign=sign)
    shown = format_currency(
        abs(value).amount,
        value.currency,
        format=pattern,
        locale=LOCALE,
        currency_digits=False,
    )
    return MINUS + shown if value.minor < 0 else shown


def minor_words(minor: int, currency: str) -> str:
    """Return minor units as `money_words` without a sign does, quicker: 1,234.50.

    For the columns of long tables, where a locale's machinery costs more than the page.
    """
    digits = exponent(currency)
    whole, rest = divmod(abs(minor), 10**digits)
    shown = f"{whole:,}.{rest:0{digits}d}" if digits else f"{whole:,}"
    return MINUS + shown if minor < 0 else shown


def currency_sign(currency: str) -> str:
    """Return what stands before an amount: £, €, US$, or the code itself."""
    return get_currency_symbol(currency, locale=LOCALE)


def long_date(day: date) -> str:
    """Return a day as papers write it: Thursday 14 October 2027."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def day_plain(day: date) -> str:
    """Return a day as "14 Oct"; an instant's day as it is by its own zone."""
    return f"{day.day} {day:%b}"


def day_year(day: date) -> str:
    """Return a day as "14 Oct 2027"."""
    return f"{day.day} {day:%b %Y}"


def day_short(day: date) -> str:
    """Return a day as "Thu 14 Oct"."""
    return f"{day:%a} {day_plain(day)}"


def day_date(day: date) -> str:
    """Return a day as "Thu 14 Oct 2027"."""
    return f"{day:%a} {day_year(day)}"


def plain_number(figure: Decimal) -> str:
    """Return a figure without needless zeros: 2.5, 10, 0.45."""
    shown = f"{figure:f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def phone_words(number: str, region: str = HOME_REGION) -> str:
    """Return a stored number as it is dialled from a region; other text unchanged."""
    if not number.startswith("+"):
        return number
    try:
        parsed = phonenumbers.parse(number, None)
    except phonenumbers.NumberParseException:
        return number
    home = phonenumbers.country_code_for_region(region) == parsed.country_code
    style = (
        phonenumbers.PhoneNumberFormat.NATIONAL
        if home
        else phonenumbers.PhoneNumberFormat.INTERNATIONAL
    )
    return phonenumbers.format_number(parsed, style)


def _pattern(currency: str, *, sign: bool) -> str:
    digits = exponent(currency)
    figures = "#,##0" + ("." + "0" * digits if digits else "")
    if not sign:
        return figures
    space = _NO_BREAK_SPACE if currency_sign(currency)[-1].isalpha() else ""
    return f"¤{space}{figures}"
