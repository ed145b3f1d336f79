from dataclasses import replace

import pytest
from reportlab.platypus import KeepTogether

from studio.pdf.grid import Column
from studio.pdf.marks import badge, caution, dot, tick_box
from studio.pdf.styles import BODY, ROW, ROW_AMOUNT, ROW_NUMBER
from studio.pdf.tables import (
    Boxed,
    bullet_list,
    caution_box,
    columns_of_terms,
    facts,
    item,
    line_table,
    ruled_rows,
    side_by_side,
    signature_lines,
    sums,
    tick_list,
    write_in,
)
from studio.pdf.text import heading, text
from tests.studio.pdf.reading import pages, printed, words

COLUMNS = [
    Column(head="What", style=ROW),
    Column(head="Quantity", width=70, style=ROW_NUMBER),
    Column(head="Amount", width=74, style=ROW_AMOUNT),
]


def lines(count: int) -> list[list[str]]:
    return [[f"Print no {n}", f"{n} pieces", f"£{n}.00"] for n in range(count)]


def test_forty_rows_go_on_over_two_pages_under_the_same_head() -> None:
    paper = printed(line_table(COLUMNS, lines(40)))

    first, second = pages(paper)

    for page in (first, second):
        assert page.count("Quantity") == 1
    assert [n for n in range(40) if f"£{n}.00" in (first + second).split()] == list(
        range(40)
    )
    assert "Print no 39" in second


def test_the_last_row_does_not_stand_alone() -> None:
    for count in range(28, 45):
        shown = pages(printed(line_table(COLUMNS, lines(count))))

        assert all(page.count("Print no") != 1 for page in shown)


def test_a_head_is_not_repeated_below_rows_of_its_own_page() -> None:
    for count in range(4, 16):
        tall = [[text("line\n" * 5 + f"end {n}.", ROW), "1", "2"] for n in range(count)]
        shown = pages(printed(line_table(COLUMNS, tall)))

        assert all(page.count("Quantity") == 1 for page in shown)
        assert sum(page.count("end ") for page in shown) == count


@pytest.mark.parametrize(
    "value",
    ["word " * 2_500, "x" * 12_000, "\n".join("abc" * 150)],
    ids=["words", "run", "lines"],
)
def test_a_cell_taller_than_a_page_is_carried_on(value: str) -> None:
    paper = printed(
        line_table(COLUMNS, [*lines(3), [value, "1 piece", "£1.00"], *lines(3)])
    )

    shown = pages(paper)

    assert len(shown) > 1
    assert all("Quantity" in page for page in shown)
    assert "£2.00" in shown[-1].split()


def test_a_tall_cell_keeps_every_word() -> None:
    value = " ".join(f"word{n}" for n in range(900))
    cells = [value, text(value), [value, text("the end")]]

    found = words(printed(line_table(COLUMNS, [cells])))

    for number in range(900):
        assert found.split().count(f"word{number}") == 3 or number >= 890
    assert "the end" in found


def test_what_people_type_in_a_cell_is_printed_as_it_stands() -> None:
    hostile = '<img src="file:///etc/passwd"/> & Söhne'

    paper = printed(line_table(COLUMNS, [[item(hostile, hostile), hostile, ""]]))

    assert "".join(words(paper).split()).count("".join(hostile.split())) == 3


def test_a_table_inside_a_box_beside_another_splits() -> None:
    paper = printed(
        heading("Kit"),
        side_by_side(
            Boxed([text("\n".join("abc" * 60)), "last"]), ruled_rows(COLUMNS, lines(80))
        ),
    )

    assert len(pages(paper)) > 1
    assert "last" in words(paper)
    assert "£79.00" in words(paper)


def test_a_table_kept_together_that_is_too_long_still_prints() -> None:
    paper = printed(KeepTogether([heading("Lines"), line_table(COLUMNS, lines(90))]))

    assert "£89.00" in words(paper)


def test_numbers_end_at_the_right_edge() -> None:
    table = line_table(COLUMNS, lines(2))

    width, _ = table.wrap(400.0, 1e6)

    assert width == pytest.approx(400.0)
    assert table._widths == pytest.approx([400 - 144 - 16, 70, 74])


def test_columns_that_are_too_wide_are_squeezed_into_the_page() -> None:
    table = line_table([Column(width=400), Column(width=400)], [["a", "b"]])

    width, _ = table.wrap(300.0, 1e6)

    assert width == pytest.approx(300.0)


def test_a_table_without_rows_is_its_head() -> None:
    assert "Quantity" in words(printed(line_table(COLUMNS, [])))


def test_rows_must_have_a_cell_for_each_column() -> None:
    with pytest.raises(ValueError, match="argument"):
        line_table(COLUMNS, [["only one"]])


def test_everything_a_document_is_built_from_prints_its_words() -> None:
    paper = printed(
        facts([("On site", "14:30"), ("Sunset", "18:07")], shares=(1, 2)),
        sums([("Before VAT", "£10.00")], total=("Total", "£12.00")),
        columns_of_terms([("Included", "One call."), ("If it rains", "The loft.")]),
        side_by_side(tick_list("Light", ["Flash", "Gel"]), None, gap=5, ruled=True),
        bullet_list(["Warm things", "Shoes"], style=replace(BODY, size=12.0)),
        caution_box([("Gate locks at 18:00.", "Move the cars.")]),
        Boxed("The sun leaves the lawn.", bar="sun"),
        write_in([Column(width=30), Column(head="Reading")], [(badge("12"), None)]),
        signature_lines("Name", "Date"),
        caution(),
        dot(),
        tick_box(ticked=True),
    )

    found = words(paper)

    assert len(pages(paper)) == 1
    for part in (
        *("On site", "14:30", "Before VAT", "£12.00", "Included", "The loft.", "Light"),
        *("Gel", "Shoes", "Gate locks at 18:00. Move the cars.", "The sun leaves"),
        *("Reading", "12", "Name", "Date"),
    ):
        assert part in found


def test_long_cautions_and_boxes_split_over_pages() -> None:
    matter = [(f"Matter {n}.", "Do this. " * 40) for n in range(20)]

    shown = pages(printed(caution_box(matter), Boxed("x " * 4_000, bar="sun")))

    assert len(shown) > 2
    assert "Matter 19." in " ".join(shown)
