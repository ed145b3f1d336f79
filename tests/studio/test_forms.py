from django import forms
from django.http import QueryDict

from studio.forms import StudioForm, more_lines, studio_lines, tidy_text
from studio.forms.problems import form_problems


class NoteForm(StudioForm):
    title = forms.CharField()
    note = forms.CharField(widget=forms.Textarea, required=False)
    kind = forms.ChoiceField(choices=[("a", "A")], label="Kind of note")
    secret = forms.CharField(widget=forms.PasswordInput, required=False)
    listed = forms.ChoiceField(choices=[("y", "Yes")], label="Is it on the list?")


class LineForm(StudioForm):
    what = forms.CharField()


def test_text_loses_controls_and_direction_overrides_and_keeps_its_letters() -> None:
    # General categories Cc and Cf: Unicode Character Database.
    odd = "Ré\x00né\x1b \u202eesrever\u202c \N{ZERO WIDTH SPACE}山田\ufeff"

    assert tidy_text(odd) == "Réné esrever 山田"


def test_joiners_that_letters_need_are_kept() -> None:
    # Persian writes ZWNJ inside words: Unicode Standard, chapter 9.2.
    assert tidy_text("می\u200cخواهم") == "می\u200cخواهم"


def test_line_ends_become_plain_in_a_long_text_and_spaces_in_a_line() -> None:
    assert tidy_text("a\r\nb\rc\u2028d", lines=True) == "a\nb\nc\nd"
    assert tidy_text("a\r\nb\tc") == "a b c"


def test_a_form_tidies_what_it_reads_and_what_it_shows_again() -> None:
    form = NoteForm({"title": "A\x07 walk", "note": "one\r\ntwo", "kind": "a"})

    form.is_valid()

    assert form.cleaned_data["title"] == "A walk"
    assert form.cleaned_data["note"] == "one\ntwo"
    assert form["title"].value() == "A walk"


def test_a_password_is_read_as_it_was_typed() -> None:
    form = NoteForm({"title": "a", "kind": "a", "listed": "y", "secret": "p\tq"})

    assert form.is_valid()
    assert form.cleaned_data["secret"] == "p\tq"


def test_text_has_a_limit_even_where_the_form_names_none() -> None:
    form = NoteForm({"title": "x" * 201, "note": "y" * 5001, "kind": "a"})

    assert "title" in form.errors
    assert "note" in form.errors
    assert form["title"].field.widget.attrs["maxlength"] == "200"


def test_what_is_missing_is_said_by_its_label() -> None:
    form = NoteForm({})

    assert form.errors["title"] == ["Fill in “Title”."]
    assert form.errors["kind"] == ["Choose “Kind of note”."]
    assert form.errors["listed"] == ["Answer “Is it on the list?”."]


def test_an_unbound_form_has_no_problems() -> None:
    assert form_problems(NoteForm()) == []


def test_problems_of_lines_say_which_line() -> None:
    lines = studio_lines(LineForm)(
        {
            "form-TOTAL_FORMS": "2",
            "form-INITIAL_FORMS": "2",
            "form-0-what": "Assistant",
            "form-1-what": "",
        }
    )

    problems = form_problems(lines)

    assert [problem.message for problem in problems] == ["Line 2: Fill in “What”."]
    assert problems[0].target_id == "id_form-1-what"


def test_one_more_line_is_added_to_what_was_posted() -> None:
    posted = QueryDict("form-TOTAL_FORMS=1&form-INITIAL_FORMS=0&form-0-what=Travel")

    lines = studio_lines(LineForm, extra=0)(more_lines(posted))

    assert [form["what"].value() for form in lines] == ["Travel", None]


def test_a_count_of_lines_that_is_no_number_does_no_harm() -> None:
    assert more_lines({"form-TOTAL_FORMS": "x"})["form-TOTAL_FORMS"] == "1"
    assert more_lines({"form-TOTAL_FORMS": "9" * 9})["form-TOTAL_FORMS"] == "200"


def test_too_many_lines_are_refused() -> None:
    data = {"form-TOTAL_FORMS": "4", "form-INITIAL_FORMS": "0"}
    data |= {f"form-{number}-what": "x" for number in range(4)}

    assert not studio_lines(LineForm, most=3)(data).is_valid()
