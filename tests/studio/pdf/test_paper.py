import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from reportlab.platypus import PageBreak, Spacer

from studio.pdf.heads import Head, LetterHead, SheetHead
from studio.pdf.paper import (
    LETTER_PAPER,
    SHEET_PAPER,
    Imprint,
    Stationery,
    print_pages,
)
from studio.pdf.scene import Drawn
from studio.pdf.text import bold, heading, rich, text
from studio.scene.day_phases import DayPhase, DayPhases, PhaseStart
from studio.scene.day_strip import StripLook, day_strip
from tests.studio.pdf.reading import HEAD, IMPRINT, fonts, pages, printed, words

STRIP = day_strip(
    DayPhases(phases=(PhaseStart(0, DayPhase.NIGHT), PhaseStart(420, DayPhase.DAY))),
    look=StripLook(width=LETTER_PAPER.width, height=17, hours=False),
)
LETTER_HEAD = LetterHead(
    name="Marsh & Söhne",
    contact=("1 Quay Lane, Priorsby", "01632 960 201"),
    kind="Quote",
    mark="Q-2027-004",
    strip=STRIP,
    notes=((0.0, "Light from 07:00"), (0.6, "your session")),
)


def letter(head: Head = LETTER_HEAD, lines: int = 3) -> bytes:
    story = [text("\n".join(f"Line {n}" for n in range(lines)))]
    return print_pages(story, imprint=IMPRINT, head=head)


def test_equal_input_gives_equal_bytes() -> None:
    def sheet() -> bytes:
        return printed(heading("Kit"), rich("A ", bold("B"), " 山"), Drawn(STRIP, 300))

    assert sheet() == sheet()
    assert letter() == letter()


def test_sheets_printed_at_once_do_not_mix() -> None:
    with ThreadPoolExecutor(max_workers=6) as pool:
        made = list(pool.map(lambda n: letter(lines=3 + n % 3), range(60)))

    assert set(made) == {letter(lines=3 + n) for n in range(3)}


def test_bytes_are_equal_in_another_process_and_after_other_work() -> None:
    program = (
        "import sys, hashlib; from tests.studio.pdf.test_paper import letter;"
        "sys.stdout.write(hashlib.sha256(letter()).hexdigest())"
    )
    root = Path(__file__).parents[3]

    def run(seed: str) -> str:
        surroundings = {**os.environ, "PYTHONHASHSEED": seed}
        surroundings["DJANGO_SETTINGS_MODULE"] = "tests.settings"
        command = [sys.executable, "-c", program]
        made = subprocess.run(
            command, cwd=root, env=surroundings, capture_output=True, check=True
        )
        return made.stdout.decode()

    assert run("1") == run("2")


def test_a_page_says_which_it_is_of_how_many() -> None:
    first, second, third = pages(letter(lines=120))

    assert "Page 1 of 3" in first
    assert "Page 2 of 3" in second
    assert "Page 3 of 3" in third


def test_the_letterhead_is_whole_on_the_first_page_and_one_line_after() -> None:
    first, second, _ = pages(letter(lines=120))

    for part in ("Marsh & Söhne", "1 Quay Lane", "Light from 07:00", "your session"):
        assert part in first
    assert "Quote, Q-2027-004" in second
    assert "1 Quay Lane" not in second
    assert all("The foot" in page for page in (first, second))


def test_the_head_of_a_work_sheet_is_on_every_page() -> None:
    paper = printed(text("a"), PageBreak(), text("b"))

    for number, page in enumerate(pages(paper), start=1):
        assert "Thursday 14 October 2027" in page
        assert f"Page {number} of 2" in page


def test_no_standard_font_is_named_anywhere() -> None:
    paper = printed(heading("Kit"), rich("A ", bold("B")), Drawn(STRIP, 300))

    assert b"Helvetica" not in paper
    assert b"Times" not in paper
    assert fonts(paper) == {
        "/AAAAAA+SourceSansPro-Regular",
        "/AAAAAA+SourceSansPro-Semibold",
        "/AAAAAA+SourceSansPro-Bold",
    }


def test_the_file_says_its_title_author_and_language() -> None:
    reader = PdfReader(BytesIO(letter()))

    assert reader.metadata is not None
    assert reader.metadata.title == "A sheet"
    assert reader.metadata.author == "Ada Marsh"
    catalog: Any = reader.trailer["/Root"]
    assert catalog["/Lang"] == "en-GB"
    assert catalog["/ViewerPreferences"]["/DisplayDocTitle"]


def test_a_title_from_people_does_no_harm() -> None:
    hostile = ")\n/Title (x\u202e <b>山 \ud800" * 50
    imprint = Imprint(title=hostile, author=hostile, foot=hostile, subject=hostile)
    head = SheetHead(over=hostile, title=hostile, beside=hostile)

    paper = print_pages([text("a")], imprint=imprint, head=head)

    reader = PdfReader(BytesIO(paper))
    assert reader.metadata is not None
    assert str(reader.metadata.title).startswith(") /Title (x <b>山 ")


def test_long_heads_stay_within_the_margins() -> None:
    long = "Very long words " * 40
    head = LetterHead(
        name=long,
        contact=(long,) * 9,
        kind=long,
        mark=long,
        strip=STRIP,
        notes=((0.9, long),),
    )

    def width_of(page: str) -> int:
        return max(len(line) for line in page.splitlines())

    (page,) = pages(letter(head))
    assert "…" in page
    assert width_of(page) < 400


@pytest.mark.parametrize(
    ("size", "points"), [("A4", (595.28, 841.89)), ("letter", (612.0, 792.0))]
)
def test_paper_has_its_standard_size(size: str, points: tuple[float, float]) -> None:
    # ISO 216: 210 x 297 mm. ANSI/ASME Y14.1: 8.5 x 11 inches of 72 points.
    stationery = replace(SHEET_PAPER, size=size)  # type: ignore[arg-type]

    (page,) = PdfReader(BytesIO(printed(text("a"), stationery=stationery))).pages

    box = [float(side) for side in page.mediabox[2:]]
    assert box == pytest.approx(points, abs=0.01)


def test_an_empty_story_is_one_page() -> None:
    assert len(pages(printed())) == 1
    assert len(pages(printed(Spacer(1, 10)))) == 1


def test_page_numbers_can_be_left_out_of_the_foot() -> None:
    imprint = replace(IMPRINT, foot_right="Printed 12 Oct 2027, 10:12")

    paper = print_pages([text("a")], imprint=imprint, head=HEAD)

    assert "Printed 12 Oct 2027, 10:12" in words(paper)


def test_the_text_width_is_what_the_margins_leave() -> None:
    assert Stationery(left=50, right=45).width == pytest.approx(595.28 - 95, abs=0.01)
