"""Seller and buyer of a frozen paper, in the terms of EN 16931."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from studio.countries import countries, country_in
from studio.errors import DomainError
from studio.scene.words import one_line

# Tax numbers name Greece and Northern Ireland by letters of their own (BR-CO-09).
_COUNTRY_OF_PREFIX = {"EL": "GR", "XI": "GB"}
_PREFIX_OF_COUNTRY = {"GR": "EL"}


class EInvoiceError(DomainError):
    """A paper that the standard's data cannot express, with the reason."""


def seller_party(seller: Mapping[str, Any], *, registered: bool) -> dict[str, Any]:
    """Return the studio as a party; raises EInvoiceError where it has no country."""
    country = seller_country(seller)
    if not country:
        raise EInvoiceError(
            "The studio's country is not known. Choose it under “Who you are” in "
            "Settings; papers issued after that have their data."
        )
    party = _party(seller["trading_name"] or seller["owner_name"], seller, country)
    if registered:
        party["vat_identifier"] = _tax_id(seller["tax_number"], country)
    else:
        # Without tax there are no tax ids (BR-O-02), yet some id is wanted (BR-CO-26).
        party["identifiers"] = {None: seller["email"] or party["name"]}
    if local := seller.get("registration_number"):
        party["tax_identifier"] = plain(local)
    return party


def buyer_party(
    buyer: Mapping[str, Any], *, country: str, with_tax_id: bool
) -> dict[str, Any]:
    """Return the client as a party; in `country` unless another is known."""
    party = _party(buyer["name"], buyer, buyer_country(buyer) or country)
    if with_tax_id and buyer["tax_number"]:
        party["vat_identifier"] = _tax_id(buyer["tax_number"], party["country_code"])
    return party


def seller_country(seller: Mapping[str, Any]) -> str:
    """Return where the studio is: as chosen, else as its address and numbers tell."""
    return (
        seller.get("country")
        or country_in(seller["address"])
        or _country_of_tax_id(seller["tax_number"])
        or _country_of_tax_id(seller["iban"])
        or ("GB" if seller["sort_code"] else "")
    )


def buyer_country(buyer: Mapping[str, Any]) -> str:
    """Return where the client is, as far as it is known; empty where it is not."""
    return (
        buyer.get("country")
        or country_in(buyer["address"])
        or _country_of_tax_id(buyer["tax_number"])
    )


def plain(words: str) -> str:
    """Return words on one line, without the characters that XML cannot hold."""
    return re.sub(r"[\x00-\x1f\x7f\ufffe\uffff]", " ", one_line(words)).strip()


def _party(name: str, facts: Mapping[str, Any], country: str) -> dict[str, Any]:
    party: dict[str, Any] = {"name": plain(name), "country_code": country}
    lines = [plain(line) for line in facts["address"].splitlines() if line.strip()]
    if lines and country_in(lines[-1]):
        lines.pop()
    parts = [*lines[:2], ", ".join(lines[2:])]
    keyed = zip(("addr_l1", "addr_l2", "addr_l3"), parts, strict=False)
    party |= {key: line for key, line in keyed if line}
    contact = {key: plain(facts.get(key) or "") for key in ("phone", "email")}
    if any(contact.values()):
        contact["name"] = plain(
            facts.get("owner_name") or facts.get("contact_name", "")
        )
        party["contacts"] = [{key: said for key, said in contact.items() if said}]
    return party


def _country_of_tax_id(number: str) -> str:
    prefix = number.strip()[:2].upper()
    code = _COUNTRY_OF_PREFIX.get(prefix, prefix)
    return code if code in countries() else ""


def _tax_id(number: str, country: str) -> str:
    compact = re.sub(r"[^A-Z0-9]", "", number.upper())
    if _country_of_tax_id(compact):
        return compact
    return _PREFIX_OF_COUNTRY.get(country, country) + compact
