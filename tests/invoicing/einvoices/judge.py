"""Run the official rules over many papers. Started as a process of its own.

Reads JSON: stylesheet to files. Writes JSON: for each file, how many rules were
looked at and what was found. Saxon is known to bring forked workers down, hence the
process.
"""

import json
import sys
from typing import Any
from xml.etree import ElementTree as ET

from saxonche import PySaxonProcessor

SVRL = "{http://purl.oclc.org/dsdl/svrl}"


def judged(report: str) -> dict[str, Any]:
    root = ET.fromstring(report)  # noqa: S314  (Saxon's own output)
    found = [*root.iter(f"{SVRL}failed-assert"), *root.iter(f"{SVRL}successful-report")]
    return {
        "fired": len([*root.iter(f"{SVRL}fired-rule")]),
        "found": [
            f"{one.get('flag')} {one.get('id')}: {' '.join(one.itertext()).strip()}"
            for one in found
        ],
    }


def main() -> None:
    answers = {}
    with PySaxonProcessor(license=False) as saxon:
        for stylesheet, files in json.load(sys.stdin).items():
            sheet = saxon.new_xslt30_processor().compile_stylesheet(
                stylesheet_file=stylesheet
            )
            for file in files:
                report = sheet.transform_to_string(source_file=file)
                answers[file] = judged(report)
    json.dump(answers, sys.stdout)


main()
