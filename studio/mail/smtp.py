"""Speaking to a mail server, and knowing afterwards how far the talk went."""

import smtplib
from typing import Any

from django.core.mail.backends.smtp import EmailBackend


class _Telling:
    """Remembers whether a message's text was put to the server."""

    told = False

    def data(self, msg: Any) -> Any:
        """Put the text to the server; from here on it may have been taken."""
        self.told = True
        return super().data(msg)  # type: ignore[misc]


class _TellingSmtp(_Telling, smtplib.SMTP):
    """A connection that starts in the clear."""


class _TellingSmtpSsl(_Telling, smtplib.SMTP_SSL):
    """A connection that is encrypted from the first byte."""


class SmtpBackend(EmailBackend):
    """Django's own way to a mail server; `told` says whether it may have the text."""

    @property
    def connection_class(self) -> type[smtplib.SMTP]:
        """The kind of connection that the settings ask for."""
        return _TellingSmtpSsl if self.use_ssl else _TellingSmtp

    @property
    def told(self) -> bool:
        """Whether the text of the message in hand was put to the server."""
        return bool(getattr(self.connection, "told", False))

    def begin(self) -> None:
        """Start a message on a connection that may have carried others."""
        if self.connection is not None:
            self.connection.told = False  # type: ignore[attr-defined]

    def drop(self) -> None:
        """Hang up without a word: a server that hangs would not hear it."""
        for name in ("connection", "_partial_connection"):
            if (connection := getattr(self, name)) is not None:
                connection.close()
            setattr(self, name, None)
