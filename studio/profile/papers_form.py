"""The form of what invoices say: words of each tax treatment, and how to pay."""

from __future__ import annotations

from typing import Any, Final, cast

from crispy_forms.helper import FormHelper
from django import forms

from studio.forms import HintedRadios, MoneyField, group, page_helper
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.forms import Posted, ProfileForm
from studio.profile.models import StudioProfile, TaxCategory

CAUTION: Final = "Check your local rules: this is a place to start, and no tax advice"
REGISTERED: Final = (
    *("zero_words", "exempt_words", "reverse_words", "export_words"),
    *("outside_words", "untaxed_category"),
)
OUTSIDE: Final = ("unregistered_category", "registration_number", "unregistered_words")
PAYING: Final = ("prints_creditor_reference", "prints_payment_code")


def _words(label: str, hint: str = "") -> forms.CharField:
    return forms.CharField(label=label, required=False, max_length=200, help_text=hint)


class PapersForm(ProfileForm):
    """What invoices say of tax, when a short one will do, and what eases paying."""

    zero_words = _words("Zero-rated", CAUTION)
    exempt_words = _words("Exempt", "Name the rule that exempts it")
    reverse_words = _words("Reverse charge")
    export_words = _words("Export, or supplied in another country")
    outside_words = _words("Outside the scope of tax")
    untaxed_category = forms.ChoiceField(
        label="A line at 0% is",
        choices=[
            (TaxCategory.EXEMPT.value, "Exempt"),
            (TaxCategory.ZERO.value, "Zero-rated"),
        ],
        widget=HintedRadios({TaxCategory.EXEMPT: "Unless the line says otherwise"}),
    )
    unregistered_category = forms.ChoiceField(
        label="E-invoices call your sales",
        choices=[
            (TaxCategory.OUTSIDE.value, "Outside the scope of tax"),
            (TaxCategory.EXEMPT.value, "Exempt, as a small business"),
        ],
        widget=HintedRadios(
            {
                TaxCategory.OUTSIDE: CAUTION,
                TaxCategory.EXEMPT: "Needs your local registration number",
            }
        ),
    )
    registration_number = forms.CharField(
        label="Local registration number", required=False, max_length=40
    )
    unregistered_words = _words(
        "Words on every invoice", "Empty for none. Some countries want a sentence"
    )
    simplified_limit = MoneyField(
        "GBP",
        label="Simplified invoices up to",
        required=False,
        help_text="With tax; empty for none. Ask what your country allows",
    )
    prints_creditor_reference = forms.BooleanField(
        label="Print a reference with check digits (ISO 11649)",
        required=False,
        help_text="Banks notice a wrong digit; bank lines are matched by it",
    )
    prints_payment_code = forms.BooleanField(
        label="Print a code to scan for SEPA transfers",
        required=False,
        help_text="On invoices in euros, where you have an IBAN",
    )

    facts = (*REGISTERED, *OUTSIDE, *PAYING)

    def __init__(self, data: Posted | None, *, profile: StudioProfile) -> None:
        super().__init__(data, profile=profile)
        limit = cast("MoneyField", self.fields["simplified_limit"])
        limit.use_currency(profile.currency)
        for field in self.fields.values():
            cast("Any", field).unmarked = True
        taxed = profile.tax_registered
        for name in OUTSIDE if taxed else (*REGISTERED, "simplified_limit"):
            del self.fields[name]

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: what concerns a studio with or without tax."""
        paying = group("How clients pay", *PAYING)
        if not self.profile.tax_registered:
            return page_helper(group("Without tax registration", *OUTSIDE), paying)
        return page_helper(
            group("Words for each tax treatment", *REGISTERED),
            group("Short invoices", "simplified_limit"),
            paying,
        )

    @classmethod
    def initial_of(cls, profile: StudioProfile) -> dict[str, Any]:
        """Return what the boxes show of the profile."""
        minor = profile.simplified_limit_minor
        digits = exponent(profile.currency)
        limit = None if minor is None else decimal_from_minor(minor, digits)
        return super().initial_of(profile) | {"simplified_limit": limit}

    def clean(self) -> dict[str, Any]:
        """Ask for the number that goes with an exemption."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        exempt = cleaned.get("unregistered_category") == TaxCategory.EXEMPT
        if exempt and not cleaned.get("registration_number"):
            self.add_error("registration_number", "Write the number: data names it.")
        return cleaned

    def details(self) -> dict[str, Any]:
        """Return the profile's fields; what is not asked stays."""
        data = self.cleaned_data
        details = {name: data[name] for name in self.facts if name in data}
        if "simplified_limit" in data:
            limit = data["simplified_limit"]
            minor = Money(limit, self.profile.currency).minor if limit else None
            details["simplified_limit_minor"] = minor
        return details
