"""The line under a box that says what the server makes of an answer."""

from typing import Any

from django import forms


class EchoMixin(forms.Field):
    """A field that may have such a line; fetched by htmx when the answer changes."""

    echoes = False
    echo = ""

    def echo_from(self, url: str, *, first: str = "") -> None:
        """Fetch the line from `url`, sending the whole form; show `first` at once."""
        self.echoes = True
        self.echo = first
        attrs: dict[str, Any] = {
            "hx-get": url,
            "hx-trigger": "change, keyup changed delay:600ms",
            "hx-include": "closest form",
            "hx-target": "next .field-echo",
            "hx-swap": "innerHTML",
        }
        self.widget.attrs.update(attrs)
