import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reportlab.platypus import Flowable

from studio.pdf.styles import BODY, TITLE, centred, right
from studio.pdf.text import (
    LONGEST,
    Words,
    bold,
    fit,
    heading,
    italic,
    line_width,
    muted,
    rich,
    semibold,
    text,
)
from tests.studio.pdf.reading import fonts, pages, printed, words

# Each of these made the library's own paragraph open a file, restyle or vanish text,
# link somewhere, or raise; tried by us on reportlab 5.1.0.
HOSTILE = [
    '<img src="file:///etc/passwd"/> & Söhne',
    '<img src="/etc/passwd"/>',
    '<img src="/dev/zero"/>',
    '<img src="http://127.0.0.1:1/x.png"/>',
    '<img src="data:image/png;base64,AAAA"/>',
    "Ann <b>Smith",
    "a<b and c",
    "Ann Smith <ann@example.com>",
    "<div>x</div>",
    '<para align="right">y</para>',
    "<para><para>z</para></para>",
    '<a href="javascript:alert(1)">click</a>',
    '<a href="#nowhere">there</a>',
    '<font color="white" size="1">hidden</font>',
    '<font size="1e308">big</font>',
    '<seq template="%(x)900000000s"/>',
    '<onDraw name="x"/>',
    "<index/>",
    "&#x110000; &amp; &nope; &",
    "<![CDATA[x]]> <!-- x --> <?x?> <![x",
    "((((((((" * 20 + "]]]]",
    "\\( \\) \\\\ ) Tj ET (",
    "{{ 7*7 }} {% now %} %(name)s {page} {pages}",
]


@pytest.mark.parametrize("hostile", HOSTILE, ids=range(len(HOSTILE)))
def test_markup_is_printed_as_it_stands(hostile: str) -> None:
    found = words(printed(text(hostile), rich("By ", bold(hostile))))

    assert "".join(found.split()).count("".join(hostile.split())) == 2


@pytest.mark.parametrize("hostile", HOSTILE, ids=range(len(HOSTILE)))
def test_no_text_becomes_a_link_or_a_picture(hostile: str) -> None:
    paper = printed(text(hostile))

    for forbidden in (b"/URI", b"/Annots", b"/GoTo", b"/XObject", b"/JavaScript"):
        assert forbidden not in paper


def test_greek_and_cyrillic_come_back_intact() -> None:
    paper = printed(
        text("Ελένη Παπαδοπούλου, Λεωφόρος Αθηνών"),
        rich(bold("Юлія Шевченко"), " and ", semibold("Đorđe Łukasz Ñandú")),
    )

    found = words(paper)

    assert "Ελένη Παπαδοπούλου, Λεωφόρος Αθηνών" in found
    assert "Юлія Шевченко and Đorđe Łukasz Ñandú" in found


def test_italics_without_greek_borrow_the_upright() -> None:
    paper = printed(rich(italic("Note for Ελένη")))

    assert "Note for Ελένη" in words(paper)
    assert {name.split("-")[-1] for name in fonts(paper)} == {
        "It",
        "Regular",
        "Semibold",
    } | {"Bold"}


def test_control_characters_and_overrides_are_gone() -> None:
    assert "Ann gnp.exe" in words(printed(text("Ann \u202egnp\u200b.exe\x00\x07")))


def test_newlines_end_lines() -> None:
    (page,) = pages(printed(text("First\nSecond\r\nThird")))

    assert [
        line for line in page.splitlines() if line in {"First", "Second", "Third"}
    ] == ["First", "Second", "Third"]


def test_a_word_of_300_characters_stays_between_the_margins() -> None:
    paragraph = text("W" * 300)

    _, height = paragraph.wrap(200.0, 1e6)

    assert height >= 10 * BODY.leading
    assert all(line.width <= 200.0 for line in paragraph._lines)
    assert "W" * 300 in words(printed(text("W" * 300))).replace(" ", "")


def test_a_comma_stays_with_the_bold_word_before_it() -> None:
    narrow = rich("Pay ", bold("£400.00"), ", now")

    narrow.wrap(line_width("Pay £400.00"), 1e6)

    shown = ["".join(s.words for s in line.spans) for line in narrow._lines]
    assert shown == ["Pay", "£400.00,", "now"]


def test_times_and_numbers_are_not_parted_at_their_dash() -> None:
    paragraph = text("from 15:00–18:45 well-lit")

    paragraph.wrap(line_width("from 15:00–18"), 1e6)

    shown = ["".join(s.words for s in line.spans) for line in paragraph._lines]
    assert shown[:2] == ["from", "15:00–18:45"]


def test_a_space_that_does_not_break_holds_words_together() -> None:
    paragraph = text("ring 01632\u00a0960\u00a0101 now")

    paragraph.wrap(line_width("ring 01632 960"), 1e6)

    shown = ["".join(s.words for s in line.spans) for line in paragraph._lines]
    assert shown[0] == "ring"
    assert shown[1].startswith("01632")


@given(st.text(st.characters(exclude_categories=()), max_size=200), st.floats(5, 300))
@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
def test_any_text_can_be_set_to_any_width(value: str, width: float) -> None:
    paragraph = text(value)

    _, height = paragraph.wrap(width, 1e6)

    assert height >= BODY.leading
    lines = paragraph._lines
    assert all(line.width <= width or len(_line(line)) == 1 for line in lines)


@given(st.lists(st.text(st.characters(exclude_categories=()), max_size=60), max_size=3))
@settings(max_examples=40, deadline=None)
def test_any_text_can_be_printed(values: list[str]) -> None:
    assert printed(*[text(value) for value in values]).startswith(b"%PDF-")


def _line(line: object) -> str:
    return "".join(span.words for span in line.spans)  # type: ignore[attr-defined]


def test_long_text_is_cut_and_says_so() -> None:
    found = words(printed(text("word " * LONGEST)))

    assert "cut: the text is too long to print" in found
    assert len(found) < LONGEST + 5_000


def test_many_lines_are_cut_and_say_so() -> None:
    paper = printed(text("\n" * 50_000))

    assert "cut: the text is too long to print" in words(paper)
    assert len(pages(paper)) < 12


@pytest.mark.parametrize(
    "piece",
    ["word ", "x", "\n", "山", "-"],
    ids=["words", "x", "lines", "boxes", "dashes"],
)
def test_a_megabyte_takes_about_as_long_as_its_limit(piece: str) -> None:
    # The library's own paragraph took over 40 s for a megabyte (measured by us).
    # CPU seconds, and a bound with room for a busy machine.
    value = piece * (1_000_000 // len(piece))
    start_s = time.process_time()

    printed(text(value))

    assert time.process_time() - start_s < 3.0


def test_a_paragraph_splits_between_pages_without_loss() -> None:
    value = " ".join(f"word{number}" for number in range(1_000))

    paper = printed(text(value))

    assert len(pages(paper)) == 2
    found = [w for w in words(paper).split() if w.startswith("word")]
    assert found == value.split()


def test_no_last_line_stands_alone() -> None:
    paragraph = text("\n".join("abcdef"))

    upper, lower = paragraph.split(100.0, 5 * BODY.leading)

    assert isinstance(upper, Words)
    assert isinstance(lower, Words)
    assert [len(upper._lines), len(lower._lines)] == [4, 2]


def test_a_heading_stays_with_what_follows() -> None:
    filler: list[Flowable] = [text("\n".join("x" * 1 for _ in range(54)))]

    first, second = pages(printed(*filler, heading("Kit"), text("a\nb\nc")))

    assert "Kit" not in first
    assert "Kit" in second


def test_lines_are_set_to_their_side() -> None:
    wide = line_width("£12.00", right(BODY))
    words_right, words_middle = text("£12.00", right(BODY)), text("x", centred(BODY))

    words_right.wrap(100.0, 1e6)
    words_middle.wrap(100.0, 1e6)

    assert words_right._lines[0].width == pytest.approx(wide)
    assert line_width("1,234.50") == pytest.approx(line_width("9,876.01"))  # tabular


def test_a_long_title_shrinks_and_then_ends_in_an_ellipsis() -> None:
    same, style = fit("Short", TITLE, width=300, smallest=12)
    assert (same, style) == ("Short", TITLE)

    whole, smaller = fit("Somewhat longer title", TITLE, width=200, smallest=12)
    assert whole == "Somewhat longer title"
    assert 12 <= smaller.size < TITLE.size
    assert line_width(whole, smaller) == pytest.approx(200)

    cut, least = fit("W" * 100_000, TITLE, width=200, smallest=12)
    assert cut.endswith("…")
    assert least.size == 12
    assert line_width(cut, least) <= 200


def test_grey_words_are_words() -> None:
    assert "so they say" in words(printed(rich(muted("so"), " they say")))


def test_nothing_but_the_text_module_makes_paragraphs() -> None:
    folder = Path(__file__).parents[3] / "studio"

    sources = [path.read_text() for path in folder.rglob("*.py")]

    assert not any("import Paragraph" in source for source in sources)
