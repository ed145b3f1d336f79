"""What PDF/A-3b asks of the hybrid paper, looked at part by part.

Source: ISO 19005-3, as far as a paper of ours can break it: colours named, fonts
embedded, annotations with flags, metadata, and the relation of the embedded file.
"""

from io import BytesIO
from typing import Any

import pytest
from lxml import etree
from PIL import ImageCms
from pypdf import PdfReader

from invoicing.einvoices.terms import terms_of
from invoicing.einvoices.writing import write_hybrid, write_xml
from invoicing.invoices.documents import print_invoice
from invoicing.invoices.printed import printed_invoice
from tests.invoicing.einvoices.cases import CASES, line, paper


@pytest.fixture(scope="module")
def hybrid() -> Any:
    snapshot = paper(*[line(9999)] * 40, full_gross="0") | {"note": "Σας ευχαριστώ"}
    pdf = print_invoice(printed_invoice(snapshot))
    return PdfReader(BytesIO(write_hybrid(pdf, terms_of(snapshot))))


def test_the_data_in_the_paper_is_what_was_written(hybrid: Any) -> None:
    name, (content,) = next(iter(hybrid.attachments.items()))

    assert name == "factur-x.xml"
    root = etree.fromstring(content)
    assert etree.QName(root).localname == "CrossIndustryInvoice"
    expected = terms_of(CASES["net"])["BT-1"].encode()
    assert expected in content
    (file,) = hybrid.root_object["/AF"]
    assert file.get_object()["/AFRelationship"] == "/Alternative"


def test_colours_are_named_as_srgb(hybrid: Any) -> None:
    (intent,) = [one.get_object() for one in hybrid.root_object["/OutputIntents"]]
    profile = intent["/DestOutputProfile"].get_object()

    assert intent["/S"] == "/GTS_PDFA1"
    assert profile["/N"] == 3
    read = ImageCms.ImageCmsProfile(BytesIO(profile.get_data()))
    assert "sRGB" in ImageCms.getProfileDescription(read)


def test_every_font_that_is_used_is_embedded(hybrid: Any) -> None:
    fonts = [font for page in hybrid.pages for font in fonts_of(page)]

    assert fonts
    for font in fonts:
        inner = font
        if font["/Subtype"] == "/Type0":
            inner = font["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in inner["/FontDescriptor"].get_object()


def test_annotations_carry_flags_and_nothing_is_locked(hybrid: Any) -> None:
    for page in hybrid.pages:
        for annotation in page.get("/Annots", []):
            assert annotation.get_object()["/F"] == 4
    assert not hybrid.is_encrypted
    assert "/ID" in hybrid.trailer


def test_metadata_says_what_it_is(hybrid: Any) -> None:
    said = hybrid.root_object["/Metadata"].get_object().get_data()
    metadata = etree.fromstring(said)

    def value(space: str, name: str) -> Any:
        return metadata.find(f".//{{{space}}}{name}").text

    pdfa = "http://www.aiim.org/pdfa/ns/id/"
    fx = "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#"
    assert (value(pdfa, "part"), value(pdfa, "conformance")) == ("3", "B")
    assert value(fx, "ConformanceLevel") == "EN 16931"
    assert value(fx, "DocumentFileName") == "factur-x.xml"


def test_both_syntaxes_say_the_same_sum() -> None:
    terms = terms_of(CASES["balance"])

    for syntax in ("cii", "ubl"):
        assert b"50.00" in write_xml(terms, syntax=syntax)


def fonts_of(page: Any) -> list[Any]:
    held = page["/Resources"]["/Font"]
    return [held[name].get_object() for name in held]
