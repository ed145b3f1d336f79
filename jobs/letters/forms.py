"""The forms of letters: their wording, and one letter before it goes."""

from __future__ import annotations

from typing import Any

from django import forms

from jobs.letters.filling import unknown_gaps
from jobs.letters.kinds import FACTS, LetterKind
from jobs.letters.queries import Wording
from studio.forms import StudioForm


class LetterForm(StudioForm):
    """One letter, as it goes out."""

    subject = forms.CharField(max_length=200)
    body = forms.CharField(
        label="Words", max_length=6000, widget=forms.Textarea(attrs={"rows": 14})
    )


class WordingForm(LetterForm):
    """How a letter is worded, with its gaps."""

    by_itself = forms.BooleanField(
        label="Send it by itself, without showing it to me first", required=False
    )
    is_off = forms.BooleanField(label="I do not send this letter", required=False)

    def clean_subject(self) -> str:
        """Refuse a gap that nothing fills."""
        return self._known("subject")

    def clean_body(self) -> str:
        """Refuse a gap that nothing fills."""
        return self._known("body")

    def _known(self, name: str) -> str:
        words: str = self.cleaned_data[name]
        if unknown := unknown_gaps(words, FACTS):
            raise forms.ValidationError(
                f"No fact is called {{{{{unknown[0]}}}}}. See the list beside."
            )
        return words

    def wording(self, kind: LetterKind) -> Wording:
        """Return what was typed."""
        return Wording(kind=kind, **self.cleaned_data)

    @staticmethod
    def initial_of(wording: Wording) -> dict[str, Any]:
        """Return what the form shows of a wording."""
        return {
            "subject": wording.subject,
            "body": wording.body,
            "by_itself": wording.by_itself,
            "is_off": wording.is_off,
        }
