"""What the studio's facts come to in words."""

from __future__ import annotations

from decimal import Decimal

from invoicing.tax import Document, Line, totals
from studio.money import Money
from studio.profile.models import StudioProfile
from studio.wording import money_words, plain_number

EXAMPLE_MINOR = 42_000


def family_sees(
    *, currency: str, tax_name: str, rate: Decimal, is_in_list: bool
) -> tuple[str, str]:
    """Return the price that a family reads for a listed one, and what it holds.

    `rate` is in percent, 0 for a studio that charges no tax. The listed price is an
    example: 420.00 in most currencies.
    """
    listed = Money.from_minor(EXAMPLE_MINOR, currency)
    if not rate:
        return money_words(listed), f"no {tax_name} in it"
    document = Document(
        currency=currency,
        price_basis="gross" if is_in_list else "net",
        lines=[Line(quantity=Decimal(1), unit_price=listed.amount, rate=rate)],
    )
    sums = totals(document)
    price = money_words(Money(sums.gross, currency))
    tax = money_words(Money(sums.tax, currency))
    return price, f"{tax_name} of {tax} is in it"


def told_of_who(profile: StudioProfile) -> str:
    """Return whose studio it is, in one line."""
    town = profile.address.strip().splitlines()[-1:] if profile.address else []
    return ", ".join(filter(None, [profile.trading_name, *town]))


def told_of_money(profile: StudioProfile) -> str:
    """Return how the studio is paid, in one line; nothing without an account."""
    account = profile.account_number or profile.iban
    if not account:
        return ""
    tax = f"{profile.tax_name} at {plain_number(profile.tax_rate)}%"
    charged = tax if profile.tax_registered else f"no {profile.tax_name}"
    return f"{profile.currency}, {charged}, account ending in {account[-4:]}"


def told_of_papers(profile: StudioProfile) -> str:
    """Return what helps clients to pay, in one line."""
    helps = []
    if profile.prints_creditor_reference:
        helps.append("reference with check digits")
    if profile.prints_payment_code:
        helps.append("code to scan")
    return f"With {' and '.join(helps)}" if helps else "With a plain reference"


def told_of_public(profile: StudioProfile) -> str:
    """Return the address that clients open, and where copies go."""
    said = [profile.public_address]
    if profile.backup_dir:
        said.append(f"copies in {profile.backup_dir}")
    return ", ".join(filter(None, said))


def told_of_ways(profile: StudioProfile) -> str:
    """Return the studio's usual days, in one line."""
    return (
        f"A quote holds {_days(profile.quote_days)}, invoices are due after "
        f"{_days(profile.payment_days)}, pictures after {_days(profile.pictures_days)}"
    )


def told_of_words(profile: StudioProfile) -> str:
    """Return which texts the studio has, in one line."""
    named = {
        "terms": "terms",
        "moving_words": "moving",
        "weather_words": "weather",
        "withdrawal_words": "withdrawal",
        "wear_words": "what to wear",
        "bring_words": "what to bring",
    }
    written = [words for name, words in named.items() if getattr(profile, name)]
    return ", ".join(written).capitalize()


def told_of_numbers(profile: StudioProfile) -> str:
    """Return what the next numbers look like, in one line."""
    patterns = (
        profile.quote_pattern,
        profile.job_pattern,
        profile.invoice_pattern,
        profile.credit_note_pattern,
    )
    return ", ".join(pattern.format(year=2027, place=18) for pattern in patterns)


def _days(days: int) -> str:
    return f"{days} day" if days == 1 else f"{days} days"
