"""The forms of a question about a paper."""

from django import forms

from studio.forms import StudioForm


class AskForm(StudioForm):
    """A question about a paper."""

    question = forms.CharField(max_length=300, help_text="Stands on the owner’s Today")


class AnswerForm(StudioForm):
    """The answer to it."""

    answer = forms.CharField(max_length=300)
