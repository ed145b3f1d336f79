import logging
from collections.abc import Iterator
from pathlib import Path

import font_source_sans_pro
import pytest
from pytest_django import Settings
from reportlab.pdfbase.ttfonts import TTFont

from studio.pdf.faces import chain, fallback_paths
from studio.pdf.fonts import BOX_EM, Run, Type, missing_glyphs, runs, typeface
from studio.pdf.text import text
from studio.scene.drawing import Weight
from studio.scene.widths import words_width
from tests.studio.pdf.reading import fonts, printed, words

FILES = Path(font_source_sans_pro.font_directory)


@pytest.fixture(autouse=True)
def read_settings_anew() -> Iterator[None]:
    yield
    fallback_paths.cache_clear()
    typeface.cache_clear()


def fall_back_to(settings: Settings, *paths: Path) -> None:
    settings.PDF_FALLBACK_FONTS = [str(path) for path in paths]
    fallback_paths.cache_clear()
    typeface.cache_clear()


def test_what_source_sans_has_is_not_missing() -> None:
    assert missing_glyphs("Zoë Łukasz Ελένη Юлія £1,234.50 – 17:10 → ⅓ ′ ″ ✓ °") == ""


def test_what_no_font_has_is_named_once_and_in_order() -> None:
    assert missing_glyphs("山田 Ann 田 🙂\n") == "山田🙂"


def test_words_from_right_to_left_are_missing_not_muddled() -> None:
    hebrew, arabic = "\u05d3\u05d5", "\u0639\u0644\u064a"

    assert missing_glyphs(f"{hebrew} and {arabic}") == hebrew + arabic


def test_what_cannot_be_seen_is_not_missing() -> None:
    assert missing_glyphs("a\u200bb\u202ec\ufeffd\x00e\tf\u2009g\u202fh\u2011i") == ""


def test_a_missing_glyph_is_a_drawn_box_of_known_width() -> None:
    found = runs("Ann 山!")

    assert [(run.font is None, run.words) for run in found] == [
        (False, "Ann "),
        (True, "山"),
        (False, "!"),
    ]
    assert typeface().width("山山", size=10) == pytest.approx(20 * BOX_EM)


def test_boxes_are_drawn_as_shapes() -> None:
    with_boxes, without = printed(text("Ann 山田")), printed(text("Ann"))

    assert "Ann" in words(with_boxes)
    assert b"\x00" not in words(with_boxes).encode()
    assert fonts(with_boxes) == fonts(without)


def test_a_fallback_font_takes_over_where_it_has_the_glyph(settings: Settings) -> None:
    # The italic has no Greek and the Black has: neither depends on the machine.
    greek = FILES / "SourceSansPro-Black.ttf"
    fall_back_to(settings, greek)

    fonts_of = chain(400, fallbacks=fallback_paths())

    assert [font.fontName for font in fonts_of] == [
        "Northsill-400",
        "Northsill-Fallback-SourceSansPro-Black",
    ]
    assert Type((chain(400, italic=True)[0], fonts_of[-1])).runs("No Ελένη") == [
        Run(chain(400, italic=True)[0], "No "),
        Run(fonts_of[-1], "Ελένη"),
    ]


def test_a_fallback_that_cannot_be_used_is_passed_over(
    settings: Settings, caplog: pytest.LogCaptureFixture, tmp_path: Path
) -> None:
    wrong = tmp_path / "wrong.ttf"
    wrong.write_bytes(b"not a font")
    fall_back_to(
        settings, tmp_path / "gone.ttf", wrong, FILES / "SourceSansPro-Regular.otf"
    )

    with caplog.at_level(logging.WARNING):
        assert missing_glyphs("Ann") == ""

    assert caplog.text.count("cannot be used on paper") == 3


@pytest.mark.parametrize(
    ("weight", "file"),
    [(400, "Regular"), (600, "Semibold"), (700, "Bold"), (900, "Black")],
)
def test_widths_are_those_of_the_font_files(weight: Weight, file: str) -> None:
    # Adobe's own files, read by reportlab's own font reader.
    font = TTFont(f"check-{file}", str(FILES / f"SourceSansPro-{file}.ttf"))
    line = "".join(map(chr, range(0x20, 0x7F)))

    assert typeface(weight).width(line, size=10) == pytest.approx(
        font.stringWidth(line, 10)
    )
    assert words_width(line, size=10, weight=weight) == pytest.approx(
        font.stringWidth(line, 10), abs=0.2
    )


@pytest.mark.parametrize(
    "words", ["15:00–18:45", "Cooper’s Row", "12° up", "Café Söhne"]
)
def test_widths_for_drawings_are_close_for_other_latin_text(words: str) -> None:
    exact = typeface(600).width(words, size=12)

    assert words_width(words, size=12, weight=600) == pytest.approx(exact, rel=0.05)
