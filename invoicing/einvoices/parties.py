"""Seller and buyer of a frozen paper, in the terms of EN 16931."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from babel import Locale

from studio.errors import DomainError
from studio.scene.words import one_line

# Tax numbers name Greece and Northern Ireland by letters of their own (BR-CO-09).
_COUNTRY_OF_PREFIX = {"EL": "GR", "XI": "GB"}
_PREFIX_OF_COUNTRY = {"GR": "EL"}


class EInvoiceError(DomainError):
    """A paper that the standard's data cannot express, with the reason."""


def seller_party(seller: Mapping[str, Any], *, registered: bool) -> dict[str, Any]:
    """Return the studio as a party; raises EInvoiceError where it has no country."""
    country = _seller_country(seller)
    party = _party(seller["trading_name"] or seller["owner_name"], seller, country)
    if registered:
        party["vat_identifier"] = _tax_id(seller["tax_number"], country)
    else:
        # Without tax there are no tax ids (BR-O-02), yet some id is wanted (BR-CO-26).
        party["identifiers"] = {None: seller["email"] or party["name"]}
    return party


def buyer_party(
    buyer: Mapping[str, Any], *, country: str, with_tax_id: bool
) -> dict[str, Any]:
    """Return the client as a party; in `country` unless the address names another."""
    there = _country_in(buyer["address"]) or _country_of_tax_id(buyer["tax_number"])
    party = _party(buyer["name"], buyer, there or country)
    if with_tax_id and buyer["tax_number"]:
        party["vat_identifier"] = _tax_id(buyer["tax_number"], party["country_code"])
    return party


def plain(words: str) -> str:
    """Return words on one line, without the characters that XML cannot hold."""
    return re.sub(r"[\x00-\x1f\x7f\ufffe\uffff]", " ", one_line(words)).strip()


def _party(name: str, facts: Mapping[str, Any], country: str) -> dict[str, Any]:
    party: dict[str, Any] = {"name": plain(name), "country_code": country}
    lines = [plain(line) for line in facts["address"].splitlines() if line.strip()]
    if lines and _country_in(lines[-1]):
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


def _seller_country(seller: Mapping[str, Any]) -> str:
    found = (
        _country_in(seller["address"])
        or _country_of_tax_id(seller["tax_number"])
        or _country_of_tax_id(seller["iban"])
        or ("GB" if seller["sort_code"] else "")
    )
    if not found:
        raise EInvoiceError(
            "The studio's country is not known. Write it as the last line of the "
            "studio's address; papers issued after that have their data."
        )
    return found


def _country_in(address: str) -> str:
    lines = [line.strip() for line in address.splitlines() if line.strip()]
    return _countries().get(lines[-1].casefold().rstrip("."), "") if lines else ""


def _country_of_tax_id(number: str) -> str:
    prefix = number.strip()[:2].upper()
    code = _COUNTRY_OF_PREFIX.get(prefix, prefix)
    return code if code.casefold() in _countries() else ""


def _tax_id(number: str, country: str) -> str:
    compact = re.sub(r"[^A-Z0-9]", "", number.upper())
    if _country_of_tax_id(compact):
        return compact
    return _PREFIX_OF_COUNTRY.get(country, country) + compact


@cache
def _countries() -> dict[str, str]:
    """Return codes of countries by their English names and by themselves."""
    named = {code: str(said) for code, said in Locale("en").territories.items()}
    codes = [code for code in named if len(code) == 2 and code.isalpha()]
    codes = [code for code in codes if code not in {"EU", "EZ", "UN", "ZZ", "XA", "XB"}]
    found = {named[code].casefold(): code for code in codes}
    found |= {code.casefold(): code for code in codes}
    uk = ("uk", "england", "scotland", "wales", "northern ireland", "great britain")
    return found | dict.fromkeys(uk, "GB")
