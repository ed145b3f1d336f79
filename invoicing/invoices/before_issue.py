"""What an invoice still lacks before it can be issued, a sentence for each thing.

Source of the list: Directive 2006/112/EC, article 226; an address of a private client
is only recommended here, since one is not asked for everywhere. Local rules differ.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from invoicing.einvoices.parties import buyer_country, seller_country
from invoicing.invoices.content import Content
from invoicing.invoices.snapshots import buyer_of, seller_of
from invoicing.invoices.treatments import words_of
from jobs.clients.models import Client, ClientKind
from studio.countries import country_name
from studio.money import Money
from studio.profile.models import StudioProfile, TaxCategory
from studio.wording import money_words

NEED_WORDS = (TaxCategory.EXEMPT, TaxCategory.REVERSE, TaxCategory.EXPORT)
ABROAD = frozenset({TaxCategory.REVERSE, TaxCategory.EXPORT})


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What was found: `missing` stops an issue, `cautions` are for the eye."""

    missing: tuple[str, ...]
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What an issue would be made of."""

    content: Content
    client: Client
    profile: StudioProfile
    simplified: bool = False

    @property
    def is_firm(self) -> bool:
        """Whether the client is an organisation."""
        return self.client.kind == ClientKind.ORGANISATION

    @property
    def total(self) -> Money:
        """The sum with tax."""
        return Money(self.content.totals().gross, self.content.currency)


def look_over(facts: Facts) -> Looked:
    """Return what is missing, and what deserves a second look."""
    missing = [*_lines(facts)]
    if not facts.content.lines:
        return Looked(missing=tuple(missing))
    if facts.profile.tax_registered:
        missing += [*_seller(facts), *_buyer(facts), *_treatment(facts)]
        cautions = [*_abroad(facts), *_recommended(facts)]
    else:
        missing += _unregistered(facts)
        cautions = []
    if facts.simplified:
        missing += _simplified(facts)
    return Looked(missing=tuple(missing), cautions=tuple(cautions))


def may_be_simplified(facts: Facts) -> bool:
    """Say whether the paper may be issued in short, by the studio's own setting."""
    return bool(facts.profile.simplified_limit_minor) and not [*_simplified(facts)]


def _lines(facts: Facts) -> Iterator[str]:
    if not facts.content.lines:
        yield "An invoice needs at least one line."
    for number, line in enumerate(facts.content.lines, start=1):
        if not line.description.strip():
            yield f"Line {number}: say what was supplied."
        if not line.quantity_thousandths:
            yield f"Line {number}: say how much of it."


def _seller(facts: Facts) -> Iterator[str]:
    profile = facts.profile
    if not (profile.trading_name or profile.owner_name):
        yield "Your name is missing: Settings, “Who you are”."
    if not profile.address.strip():
        yield "Your address is missing: Settings, “Who you are”."
    if not profile.tax_number.strip():
        yield f"Your {profile.tax_name} number is missing: Settings, “Money”."


def _buyer(facts: Facts) -> Iterator[str]:
    client = facts.client
    if facts.simplified:
        return
    if not client.name.strip():
        yield "The client has no name."
    if facts.is_firm and not client.address.strip():
        yield f"{client}: the address is missing; an invoice to a firm shows it."


def _treatment(facts: Facts) -> Iterator[str]:
    content, used = facts.content, facts.content.categories
    for number, line in enumerate(content.lines, start=1):
        if line.category == TaxCategory.STANDARD and not line.rate:
            yield f"Line {number}: a line at the standard rate needs its rate."
    for category in NEED_WORDS:
        if category in used and not words_of(category, facts.profile):
            said = category.label.lower()
            yield f"The words for “{said}” are missing: Settings, “Invoices”."
    if TaxCategory.OUTSIDE in used and len(used) > 1:
        yield (
            "What is outside the scope of tax cannot stand beside other lines: "
            "issue it on an invoice of its own."
        )
    if TaxCategory.REVERSE in used:
        yield from _reverse(facts)
    if TaxCategory.EXPORT in used and not buyer_country(buyer_of(facts.client)):
        yield f"{facts.client}: the country is missing; an export names where it goes."
    yield from _deposits(facts)


def _reverse(facts: Facts) -> Iterator[str]:
    client = facts.client
    if not client.tax_number.strip():
        yield f"{client}: the tax number is missing; a reverse charge names it."
    if not facts.is_firm:
        yield f"{client} is a private person; a reverse charge is for businesses."


def _deposits(facts: Facts) -> Iterator[str]:
    """Refuse what is taken off at a rate that the lines no longer have."""
    below = [row for row in facts.content.totals().breakdown if row.taxable < 0]
    if below and facts.content.deductions:
        numbers = ", ".join(sorted({one.number for one in facts.content.deductions}))
        yield (
            f"Deposit invoice {numbers} was taxed otherwise than these lines. Take it "
            "back by a credit note first, or treat the lines alike."
        )


def _unregistered(facts: Facts) -> Iterator[str]:
    if any(line.rate for line in facts.content.lines):
        yield "These lines have rates from before. Save the draft to take them off."
    exempt = facts.profile.unregistered_category == TaxCategory.EXEMPT
    if exempt and not facts.profile.registration_number:
        yield "Your registration number is missing: Settings, “Invoices”."


def _simplified(facts: Facts) -> Iterator[str]:
    limit = facts.profile.simplified_limit_minor
    if not limit:
        yield "Simplified invoices are switched off: Settings, “Invoices”."
        return
    if facts.is_firm:
        yield "A simplified invoice is for private clients."
    if facts.total.minor > limit:
        most = money_words(Money.from_minor(limit, facts.content.currency))
        yield f"A simplified invoice is for {most} at most; this one is larger."
    if facts.content.categories & ABROAD:
        yield "A reverse charge or an export needs a full invoice."


def _abroad(facts: Facts) -> Iterator[str]:
    here = seller_country(seller_of(facts.profile))
    there = buyer_country(buyer_of(facts.client))
    special = facts.content.categories & ABROAD
    if not (here and there):
        return
    if here != there and not special and facts.is_firm:
        yield (
            f"{facts.client} is in {country_name(there)}. Find out whether the tax is "
            "due there, or by the reverse charge."
        )
    if here == there and TaxCategory.EXPORT in special:
        yield f"{facts.client} is in {country_name(there)}, as you are."


def _recommended(facts: Facts) -> Iterator[str]:
    if not (facts.is_firm or facts.simplified or facts.client.address.strip()):
        yield f"{facts.client} has no address yet; a full invoice shows it."
