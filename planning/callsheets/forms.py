"""The one question before a call sheet goes out that lacks something."""

from __future__ import annotations

from django import forms

from studio.forms import StudioForm


class SendForm(StudioForm):
    """Whether the papers go out although something is missing."""

    despite_gaps = forms.BooleanField(
        required=False, label="Send it all the same, without what is missing"
    )
