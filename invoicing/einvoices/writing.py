"""The bytes of e-invoices. Only this module knows the library that writes them.

The library is loaded when first needed. Its generator changes the dict that it gets
and checks no sum; its own check by schematron sends the paper to a server and passes
when there is none, so it is switched off: tests run the official rules instead.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from copy import deepcopy
from importlib import import_module
from io import BytesIO
from typing import Any, Final, Literal, cast

from PIL import ImageCms

from invoicing.einvoices.terms import Terms

Syntax = Literal["cii", "ubl"]
_FLAVOURS: Final = {"cii": "factur-x", "ubl": "ubl-2.1"}

# Every paper would be named in the log, and each of its terms that is left out.
logging.getLogger("factur-x").setLevel(logging.ERROR)


def write_xml(terms: Terms, *, syntax: Syntax) -> bytes:
    """Return a paper as XML that the syntax's own schema accepts.

    Where the schema does not, the library raises.
    """
    given = deepcopy(terms)
    for row in given["BG-23"]:
        if "BT-7" in given:  # the library reads the tax point in each row
            row["BT-7"] = given["BT-7"]
    write = cast("Callable[..., bytes]", _library().generate_xml)
    return write(
        given, flavor=_FLAVOURS[syntax], level="en16931", check_schematron=None
    )


def write_hybrid(pdf: bytes, terms: Terms) -> bytes:
    """Return a paper's PDF as PDF/A-3 with its data in it (Factur-X, EN 16931)."""
    write = cast("Callable[..., bytes]", _library().generate_from_binary)
    seller = terms["BG-4"]["name"]
    title = f"{seller}: {terms['BT-1']}"
    about = {"author": seller, "title": title, "subject": title, "keywords": "Invoice"}
    return write(
        _with_colours_named(pdf),
        write_xml(terms, syntax="cii"),
        flavor="factur-x",
        level="en16931",
        check_xsd=False,
        check_schematron=False,
        pdf_metadata=about,
        lang="en-GB",
        afrelationship="alternative",
    )


def _with_colours_named(pdf: bytes) -> bytes:
    """Add what sRGB is, which PDF/A wants beside colours given as RGB."""
    pypdf, generic = import_module("pypdf"), import_module("pypdf.generic")
    writer = pypdf.PdfWriter(clone_from=BytesIO(pdf))
    name = generic.NameObject
    stream = generic.StreamObject()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    stream.set_data(profile.tobytes())
    stream[name("/N")] = generic.NumberObject(3)
    said = generic.TextStringObject("sRGB IEC61966-2.1")
    intent = generic.DictionaryObject(
        {
            name("/Type"): name("/OutputIntent"),
            name("/S"): name("/GTS_PDFA1"),
            name("/OutputConditionIdentifier"): said,
            name("/Info"): said,
            name("/DestOutputProfile"): writer._add_object(stream.flate_encode()),
        }
    )
    intents = generic.ArrayObject([writer._add_object(intent)])
    writer.root_object[name("/OutputIntents")] = intents
    written = BytesIO()
    writer.write(written)
    return written.getvalue()


def _library() -> Any:
    return import_module("facturx")
