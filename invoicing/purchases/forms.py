"""The forms of what was bought, and of a drive."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any, cast

from crispy_forms.helper import FormHelper
from django import forms

from invoicing.purchases.models import PaidFrom, Purchase, PurchaseKind
from invoicing.purchases.sums import drive_worth, tax_inside
from jobs.jobs.models import Job
from studio.files.operations import MOST_BYTES
from studio.forms import DateField, MoneyField, StudioForm, page_helper, row, wide
from studio.forms.days import Lean
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import StudioProfile
from studio.wording import plain_number

KINDS = [choice for choice in PurchaseKind.choices if choice[0] != "MILEAGE"]


class _OfTheBooks(StudioForm):
    """What purchases and drives have in common: a day that is not to come, a job."""

    bought_on = DateField(label="On", lean=Lean.BACK)
    job = forms.ModelChoiceField(
        Job.objects.none(),
        label="For which job",
        required=False,
        empty_label="No one job",
    )
    private_percent = forms.IntegerField(
        label="Private share, %",
        required=False,
        min_value=0,
        max_value=100,
        help_text="Your own use; the rest is the studio’s",
        widget=forms.TextInput(attrs={"inputmode": "numeric", "maxlength": "3"}),
    )

    def __init__(
        self,
        *args: Any,
        profile: StudioProfile,
        today: date,
        found: Purchase | None = None,
        **kwargs: Any,
    ) -> None:
        if found:
            kwargs["initial"] = initial_of(found)
        super().__init__(*args, **kwargs)
        self.profile, self.today = profile, today
        self.has_tax = profile.tax_registered or _bore_tax(found)
        self.currency = found.currency if found else profile.currency
        jobs = Job.objects.select_related("client").order_by("-pk")
        cast("forms.ModelChoiceField[Job]", self.fields["job"]).queryset = jobs

    def clean_bought_on(self) -> date:
        """Refuse a day that is still to come."""
        day: date = self.cleaned_data["bought_on"]
        if day > self.today:
            raise forms.ValidationError("That day is still to come.")
        return day


class PurchaseForm(_OfTheBooks):
    """One thing bought: from whom, for how much, and how it was paid."""

    supplier = forms.CharField(label="From", max_length=200)
    what = forms.CharField(max_length=200)
    kind = forms.ChoiceField(choices=KINDS)
    gross = MoneyField("GBP", label="Paid in all")
    rate = forms.DecimalField(
        label="Tax rate, %",
        required=False,
        min_value=0,
        max_value=100,
        decimal_places=2,
        help_text="As on the receipt; empty where it shows no tax",
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "6"}),
    )
    tax = MoneyField(
        "GBP",
        label="Tax in it",
        required=False,
        help_text="Worked out from the rate where empty",
    )
    paid_on = DateField(
        label="Paid on",
        required=False,
        lean=Lean.BACK,
        help_text="Empty while it is not paid",
    )
    paid_from = forms.ChoiceField(label="Paid from", choices=PaidFrom.choices)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("gross", "tax"):
            cast("MoneyField", self.fields[name]).use_currency(self.currency)
        if self.has_tax:
            self.fields["rate"].label = f"{self.profile.tax_name} rate, %"
            self.fields["tax"].label = f"{self.profile.tax_name} in it"
        else:
            del self.fields["rate"], self.fields["tax"]

    @property
    def helper(self) -> FormHelper:
        """How the form is drawn: tax only where it is, or was, claimed back."""
        sums = [wide("gross", 4)]
        if "tax" in self.fields:
            sums += [wide("rate", 4), wide("tax", 4)]
        paid = [row("paid_on", "paid_from")] if "paid_on" in self.fields else []
        return page_helper(
            row("supplier", "bought_on"),
            row("what", "kind"),
            row(*sums),
            *paid,
            row("job", "private_percent"),
        )

    def clean_gross(self) -> Any:
        """Refuse nothing, and a sum that came back."""
        if self.cleaned_data["gross"] <= 0:
            raise forms.ValidationError("Give what it cost, above nothing.")
        return self.cleaned_data["gross"]

    def clean_paid_on(self) -> date | None:
        """Refuse a day that is still to come."""
        day: date | None = self.cleaned_data["paid_on"]
        if day and day > self.today:
            raise forms.ValidationError("That day is still to come.")
        return day

    def clean(self) -> dict[str, Any]:
        """See that the tax is a part of the sum."""
        data = super().clean() or self.cleaned_data
        gross, tax = data.get("gross"), data.get("tax")
        if gross and tax and tax >= gross:
            self.add_error("tax", "The tax is more than was paid.")
        if tax and not data.get("rate"):
            self.add_error("rate", "Give the rate of this tax.")
        return data

    def details(self) -> dict[str, Any]:
        """Return the purchase's fields."""
        data, currency = self.cleaned_data, self.currency
        gross = Money(data["gross"], currency).minor
        rate, tax = data.get("rate") or Decimal(0), data.get("tax")
        inside = tax_inside(gross, rate) if tax is None else Money(tax, currency).minor
        return {
            "supplier": data["supplier"],
            "what": data["what"],
            "kind": data["kind"],
            "bought_on": data["bought_on"],
            "paid_on": data.get("paid_on"),
            "paid_from": data.get("paid_from", PaidFrom.BANK),
            "currency": currency,
            "gross_minor": gross,
            "tax_minor": inside,
            "tax_rate_basis_points": int(rate * 100),
            "private_percent": data["private_percent"] or 0,
            "job": data["job"],
        }


class DriveForm(_OfTheBooks):
    """A drive in one's own car, paid by distance at the studio's rate."""

    what = forms.CharField(
        label="From where to where, and why", max_length=200, help_text="There and back"
    )
    distance = forms.DecimalField(
        min_value=Decimal("0.1"),
        max_value=10_000,
        decimal_places=1,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "7"}),
    )

    layout = ("what", row("bought_on", "distance"), "job")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["private_percent"]
        rate = self.profile.distance_rate
        self.fields["distance"].help_text = f"At {rate} a {self.profile.distance_unit}"
        unit = self.profile.distance_unit
        self.fields["distance"].label = "Kilometres" if unit == "km" else "Miles"

    def details(self) -> dict[str, Any]:
        """Return the purchase's fields."""
        data, profile = self.cleaned_data, self.profile
        tenths = int(data["distance"] * 10)
        rate = profile.distance_rate_minor_hundredths
        return {
            "kind": PurchaseKind.MILEAGE,
            "supplier": "Own car",
            "what": data["what"],
            "bought_on": data["bought_on"],
            "paid_on": data["bought_on"],
            "paid_from": PaidFrom.OWN,
            "currency": self.currency,
            "gross_minor": drive_worth(tenths, rate),
            "distance_tenths": tenths,
            "distance_rate_minor_hundredths": rate,
            "job": data["job"],
        }

    def clean(self) -> dict[str, Any]:
        """Ask for the rate where the studio has none."""
        data = super().clean() or self.cleaned_data
        if not self.profile.distance_rate_minor_hundredths:
            self.add_error(
                "distance", "Set what a mile or kilometre is worth in Settings, Books."
            )
        return data


class ReceiptForm(StudioForm):
    """The picture or scan of a receipt."""

    receipt = forms.FileField(help_text="PDF, JPEG, PNG or WebP, 12 MB at most.")

    def clean_receipt(self) -> Any:
        """Refuse what is too large before it is read."""
        receipt = self.cleaned_data["receipt"]
        if receipt.size > MOST_BYTES:
            raise forms.ValidationError("The file is larger than 12 MB.")
        return receipt


class NoReceiptForm(StudioForm):
    """Why purchases need no receipt."""

    because = forms.CharField(
        label="Why is none needed?",
        max_length=200,
        help_text="Such as: the bank’s own charge; the machine gave none",
    )


class DropForm(StudioForm):
    """Why a purchase is taken back."""

    because = forms.CharField(label="What was wrong with it?", max_length=200)


def _bore_tax(found: Purchase | None) -> bool:
    """Whether tax was written down with it, whatever the studio is today."""
    return found is not None and bool(found.tax_minor or found.tax_rate_basis_points)


def initial_of(purchase: Purchase) -> dict[str, Any]:
    """Return what the forms show of a purchase that stands."""
    digits = exponent(purchase.currency)
    rate = Decimal(purchase.tax_rate_basis_points) / 100
    return {
        "supplier": purchase.supplier,
        "what": purchase.what,
        "kind": purchase.kind,
        "bought_on": purchase.bought_on,
        "paid_on": purchase.paid_on,
        "paid_from": purchase.paid_from,
        "gross": decimal_from_minor(purchase.gross_minor, digits),
        "tax": decimal_from_minor(purchase.tax_minor, digits) or None,
        "rate": plain_number(rate) if rate else None,
        "private_percent": purchase.private_percent or None,
        "distance": plain_number(purchase.distance),
        "job": purchase.job_id,
    }
