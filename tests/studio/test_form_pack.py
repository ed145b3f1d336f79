"""The pack against what WAI-ARIA and the HTML standard ask of a form.

Labels, groups, descriptions and error summaries follow the W3C's WAI tutorial "Forms";
what may stand inline follows our own content security policy.
"""

from typing import Any

import pytest
from crispy_forms.bootstrap import (
    FieldWithButtons,
    FormActions,
    InlineRadios,
    PrependedText,
    StrictButton,
)
from crispy_forms.helper import FormHelper
from crispy_forms.layout import (
    HTML,
    Button,
    ButtonHolder,
    Column,
    Div,
    Hidden,
    MultiField,
    Submit,
)
from django import forms
from django.template import Context, Template

from studio.forms import (
    CoordinatesField,
    DateField,
    HintedRadios,
    MoneyField,
    PhoneField,
    StudioForm,
    TimeField,
    branch,
    group,
    page_helper,
    pair,
    row,
    studio_lines,
    wide,
)
from tests.studio.markup import Markup

VAT_HINTS = {"no": "No VAT on your papers"}


class SettingsForm(StudioForm):
    layout = (
        row("name", wide("day", 4), wide("starts", 2, box=6)),
        pair("deposit", "tel"),
        group("Tax", "vat", branch("number")),
        "kit",
        "show",
        "where",
        "note",
        "token",
    )
    name = forms.CharField(help_text="As on the door")
    day = DateField(help_text="The day you start")
    starts = TimeField(required=False)
    deposit = MoneyField("GBP", help_text="A round sum")
    tel = PhoneField(required=False)
    vat = forms.ChoiceField(
        label="Are you registered for VAT?",
        choices=[("no", "No"), ("yes", "Yes")],
        widget=HintedRadios(VAT_HINTS),
        help_text="Ask if unsure",
    )
    number = forms.CharField(required=False)
    kit = forms.MultipleChoiceField(
        choices=[("a", "Tripod"), ("b", "Flash")], widget=forms.CheckboxSelectMultiple
    )
    show = forms.BooleanField(help_text="You can change it later")
    where = CoordinatesField()
    note = forms.CharField(widget=forms.Textarea, required=False)
    token = forms.CharField(widget=forms.HiddenInput)

    def clean(self) -> None:
        super().clean()
        raise forms.ValidationError("The studio has no address yet.")


class LineForm(StudioForm):
    what = forms.CharField(help_text="As the client reads it")
    price = MoneyField("GBP")


def drawn(form: Any, tag: str = "{% crispy form %}", **context: Any) -> Markup:
    template = Template("{% load crispy_forms_tags northsill %}" + tag)
    return Markup(template.render(Context({"form": form, **context})))


@pytest.fixture
def fresh() -> Markup:
    return drawn(SettingsForm())


@pytest.fixture
def refused() -> Markup:
    return drawn(SettingsForm({"deposit": "much", "starts": "3"}))


@pytest.mark.parametrize("state", ["fresh", "refused"])
def test_nothing_points_at_what_is_not_there(
    state: str, request: pytest.FixtureRequest
) -> None:
    page: Markup = request.getfixturevalue(state)

    assert page.dangling() == []
    assert len(page.ids) == len(set(page.ids))


@pytest.mark.parametrize("state", ["fresh", "refused"])
def test_the_policy_has_nothing_to_refuse(
    state: str, request: pytest.FixtureRequest
) -> None:
    assert request.getfixturevalue(state).forbidden() == []


def test_every_box_has_a_label(fresh: Markup) -> None:
    labelled = {attrs["for"] for attrs in fresh.of("label")}
    boxes = [
        attrs
        for tag, attrs in fresh.elements
        if tag in {"input", "select", "textarea"} and attrs.get("type") != "hidden"
    ]

    assert len(boxes) == 13
    assert {attrs["id"] for attrs in boxes} == labelled


def test_hints_and_errors_describe_their_box(refused: Markup) -> None:
    (box,) = refused.of("input", name="name")

    assert box["aria-describedby"] == "id_name_helptext id_name_error"
    assert box["aria-invalid"] == "true"
    assert "required" not in box


def test_a_group_has_a_legend_and_is_described_as_a_whole(refused: Markup) -> None:
    described = [attrs.get("aria-describedby") for attrs in refused.of("fieldset")]

    assert described == [None, "id_vat_helptext id_vat_error", "id_kit_error"]
    assert len(refused.of("legend")) == 3
    assert "No VAT on your papers" in refused.words


def test_a_good_answer_is_not_called_wrong(refused: Markup) -> None:
    (box,) = refused.of("input", name="tel")

    assert "aria-invalid" not in box
    assert "aria-describedby" not in box


def test_what_is_wrong_stands_on_top_and_leads_to_each_field(refused: Markup) -> None:
    links = [attrs["href"] for attrs in refused.of("a")]

    assert links == [
        "#id_name",
        "#id_day",
        "#id_starts",
        "#id_deposit",
        "#id_vat_0",
        "#id_kit_0",
        "#id_show",
        "#id_where",
    ]
    assert "The studio has no address yet." in refused.words
    assert "10 things to put right" in refused.words


def test_the_summary_is_focused_and_its_inner_part_announced(refused: Markup) -> None:
    (outer,) = refused.of("div", **{"class": "problem"})
    (inner,) = refused.of("div", role="alert")

    assert outer == {"class": "problem", "tabindex": "-1", "autofocus": ""}
    assert inner == {"role": "alert"}


def test_a_fresh_form_has_no_summary(fresh: Markup) -> None:
    assert fresh.of("div", **{"class": "problem"}) == []


def test_a_page_can_draw_the_summary_itself() -> None:
    class QuietForm(SettingsForm):
        summary = False

    form = QuietForm({})
    alone = drawn(form)
    beside = drawn(form, "{% field_error_summary form %}{% crispy form %}")

    assert alone.of("div", role="alert") == []
    assert len(beside.of("div", role="alert")) == 1


def test_what_may_be_left_out_is_marked_and_nothing_else(fresh: Markup) -> None:
    assert fresh.words.count("(optional)") == 4


def test_the_currency_is_joined_to_its_box(fresh: Markup) -> None:
    assert len(fresh.of("div", **{"class": "joined"})) == 1
    assert "£" in fresh.words


def test_fields_stand_in_rows_pairs_and_branches(fresh: Markup) -> None:
    classes = [attrs.get("class", "") for _, attrs in fresh.elements]

    for wanted in ("row", "pair", "branch", "field span-4", "fieldset", "width-6"):
        assert wanted in classes


def test_the_page_owns_the_form_element(fresh: Markup) -> None:
    assert fresh.of("form") == []
    assert fresh.of("button") == []


def test_words_of_people_are_escaped() -> None:
    page = drawn(SettingsForm({"name": "<script>alert(1)</script>", "vat": "<b>"}))

    assert page.of("script") == []
    assert page.of("b") == []


def test_an_echo_line_waits_under_its_box() -> None:
    form = SettingsForm()
    day = form.fields["day"]
    assert isinstance(day, DateField)
    day.echo_from("/echo/", first="Thursday.")

    page = drawn(form)

    (line,) = page.of("p", id="id_day_echo")
    assert line["role"] == "status"
    assert page.of("input", name="day")[0]["hx-get"] == "/echo/"
    assert "Thursday." in page.words


def test_lines_are_a_table_whose_boxes_are_labelled_by_line() -> None:
    lines = studio_lines(LineForm, extra=0)(
        {
            "form-TOTAL_FORMS": "2",
            "form-INITIAL_FORMS": "0",
            "form-0-what": "Assistant",
            "form-0-price": "22",
            "form-1-price": "x",
        }
    )
    tag = "{% include 'northsill/table_inline_formset.html' with formset=form %}"

    page = drawn(lines, "{% field_error_summary form %}" + tag)

    assert page.dangling() == []
    assert len(page.ids) == len(set(page.ids))
    assert len(page.of("th", scope="col")) == 3
    assert "Line 2, What" in page.words
    assert "Remove line 1" in page.words
    assert [link["href"] for link in page.of("a")] == [
        "#id_form-1-what",
        "#id_form-1-price",
    ]


def test_a_set_of_forms_is_drawn_by_the_same_tag() -> None:
    lines = studio_lines(LineForm)({"form-TOTAL_FORMS": "1", "form-INITIAL_FORMS": "1"})

    page = drawn(lines, "{% crispy form helper %}", helper=page_helper())

    assert page.dangling() == []
    assert "Line 1: Fill in “What”." in page.words


def test_crispys_own_layout_pieces_are_drawn_without_bad_markup() -> None:
    helper = page_helper(
        Div(Column("name"), css_id="who"),
        MultiField("Numbers", "number"),
        PrependedText("where", "Lat, lon"),
        InlineRadios("vat"),
        FieldWithButtons("tel", StrictButton("Ring", css_class="button")),
        HTML("<p>Words</p>"),
        FormActions(Submit("save", "Save"), Button("back", "Back")),
        ButtonHolder(Hidden("step", "2")),
    )

    page = drawn(SettingsForm({}), "{% crispy form helper %}", helper=helper)

    assert page.forbidden() == []
    assert len(page.ids) == len(set(page.ids))
    assert [attrs["type"] for attrs in page.of("button")] == [
        "button",
        "submit",
        "button",
    ]
    assert page.of("input", type="submit") == []
    assert page.of("input", type="hidden", name="step")[0]["value"] == "2"


def test_a_helper_of_crispy_itself_gets_a_whole_form() -> None:
    page = drawn(SettingsForm(), "{% crispy form helper %}", helper=FormHelper())

    (element,) = page.of("form")
    assert element["method"] == "post"
    assert "novalidate" in element


def test_a_single_field_can_be_drawn_by_hand() -> None:
    form = SettingsForm({})

    page = drawn(form, "{{ form.name|as_crispy_field }}{{ form|as_crispy_errors }}")

    assert len(page.of("input", name="name")) == 1
    assert len(page.of("div", role="alert")) == 1
