"""Everything that an issued paper prints, frozen as plain JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from invoicing.invoices.content import Content
from invoicing.invoices.models import Invoice
from invoicing.invoices.pay_codes import creditor_reference, transfer_code
from invoicing.invoices.states import Purpose, Series
from invoicing.invoices.treatments import wording
from invoicing.tax import Totals
from jobs.clients.models import Client
from jobs.jobs.models import Job
from studio.money import Money
from studio.profile.models import StudioProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A paper about to be issued, complete but for its number."""

    series: Series
    purpose: Purpose
    job: Job
    content: Content
    totals: Totals
    issued_on: date
    due_on: date
    tax_point_on: date
    note: str = ""
    corrects: Invoice | None = None
    credited: Mapping[int, int] = field(default_factory=dict)
    """What a credit note takes back of each line of the invoice, in minor units."""
    takes_all: bool = False
    is_paid: bool = False
    """Whether its money came in before it."""
    simplified: bool = False


def snapshot_of(paper: Paper, *, number: str) -> dict[str, Any]:
    """Return what the paper will print for ever, whatever changes afterwards."""
    corrects, profile = paper.corrects, StudioProfile.load()
    words, seller = wording(paper.content, profile), seller_of(profile)
    if corrects:  # the tax of then, not of now
        words = corrects.snapshot.get("tax_words", words)
        names = ("tax_registered", "tax_name", "tax_number")
        seller |= {name: corrects.snapshot["seller"][name] for name in names}
    said = {
        "format": 2,
        "series": str(paper.series),
        "purpose": str(paper.purpose),
        "number": number,
        "issued_on": paper.issued_on.isoformat(),
        "due_on": paper.due_on.isoformat(),
        "tax_point_on": paper.tax_point_on.isoformat(),
        "seller": seller,
        "buyer": buyer_of(paper.job.client),
        "job": {"number": paper.job.number, "title": paper.job.title},
        "content": paper.content.to_json(),
        "totals": totals_json(paper.totals),
        "full_gross": str(paper.content.full_totals().gross),
        "note": paper.note,
        "corrects": (
            {"number": corrects.number, "issued_on": corrects.issued_on.isoformat()}
            if corrects
            else None
        ),
        "credited": {str(line): minor for line, minor in paper.credited.items()},
        "takes_all": paper.takes_all,
        "simplified": paper.simplified,
        "tax_words": words,
    }
    return said | _pay_details(said, profile, is_paid=paper.is_paid)


def _pay_details(
    said: Mapping[str, Any], profile: StudioProfile, *, is_paid: bool
) -> dict[str, str]:
    """Return the creditor reference and the code to scan, where they are wanted.

    What was paid already has no code, lest it be paid twice.
    """
    asks = said["series"] == Series.INVOICE
    reference = code = ""
    if asks and profile.prints_creditor_reference:
        reference = creditor_reference(said["number"])
    if asks and profile.prints_payment_code and not is_paid:
        code = transfer_code(
            said["seller"],
            due=Money(Decimal(said["totals"]["due"]), said["content"]["currency"]),
            reference=reference,
            text=said["number"],
        )
    return {"creditor_reference": reference, "payment_code": code}


def seller_of(profile: StudioProfile) -> dict[str, Any]:
    """Return the studio as its papers name it."""
    names = (
        "trading_name",
        "owner_name",
        "address",
        "country",
        "phone",
        "email",
        "tax_registered",
        "tax_name",
        "account_name",
        "sort_code",
        "account_number",
        "iban",
        "bic",
    )
    seller = {name: getattr(profile, name) for name in names}
    seller["tax_number"] = profile.tax_number if profile.tax_registered else ""
    outside = not profile.tax_registered
    seller["registration_number"] = profile.registration_number if outside else ""
    return seller


def buyer_of(client: Client) -> dict[str, Any]:
    """Return the client as papers name them."""
    names = (
        *("name", "contact_name", "address", "country", "email", "tax_number"),
        "kind",
    )
    return {name: str(getattr(client, name)) for name in names}


def totals_json(totals: Totals) -> dict[str, Any]:
    """Return figures as text, so that JSON keeps every digit."""
    return {
        "line_nets": [str(net) for net in totals.line_nets],
        "allowance_total": str(totals.allowance_total),
        "net": str(totals.net),
        "tax": str(totals.tax),
        "gross": str(totals.gross),
        "due": str(totals.due),
        "breakdown": [
            {
                "category": row.category,
                "rate": str(row.rate),
                "taxable": str(row.taxable),
                "tax": str(row.tax),
            }
            for row in totals.breakdown
        ],
    }


def seller_lines(seller: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the studio's address and how to reach it, a line each."""
    address = ", ".join(filter(None, map(str.strip, seller["address"].splitlines())))
    reach = ", ".join(part for part in (seller["phone"], seller["email"]) if part)
    return tuple(line for line in (address, reach) if line)


def seller_foot(seller: Mapping[str, Any]) -> str:
    """Return who the studio is in law, for the foot of a paper."""
    name, owner = seller["trading_name"], seller["owner_name"]
    said = name or owner
    if name and owner and name != owner:
        said = f"{name} is the trading name of {owner}, sole trader"
    if seller["tax_number"]:
        said += f". {seller['tax_name']} no. {seller['tax_number']}"
    return said + "." if said else ""
