"""Writing a message's row out as an e-mail: the same bytes every time."""

from __future__ import annotations

import hashlib
from email.message import Message as MimeMessage
from email.utils import format_datetime, formataddr, parseaddr

from django.conf import settings
from django.core.mail import EmailMessage, EmailMultiAlternatives
from django.utils.encoding import punycode

from studio.errors import DomainError
from studio.links.models import PrivateLink
from studio.links.operations import opens, token_of
from studio.mail.models import Message
from studio.profile.models import StudioProfile

PLACE = "{link}"
INVITATION = "text/calendar; method="


class LetterError(DomainError):
    """A message cannot be written out; the reason is fit to show."""


class SteadyEmail(EmailMultiAlternatives):
    """An e-mail whose bytes depend on nothing but its content."""

    def message(self) -> MimeMessage:  # type: ignore[override]
        """Return the e-mail with boundaries made from its Message-ID."""
        written = super().message()
        seed: str = self.extra_headers["Message-ID"]
        parts = [part for part in written.walk() if part.is_multipart()]
        for depth, part in enumerate(parts):
            digest = hashlib.sha256((seed + "+" * depth).encode()).hexdigest()
            part.set_boundary(f"={digest[:40]}=")
        return written


def write_out(message: Message) -> EmailMessage:
    """Return the e-mail of a row, its private link put in. Raises LetterError."""
    studio = StudioProfile.load()
    _, address = parseaddr(settings.DEFAULT_FROM_EMAIL)
    answer_to = [studio.email] if studio.email and studio.email != address else []
    email = SteadyEmail(
        subject=message.subject,
        body=_body(message, studio.public_address),
        from_email=formataddr((_one_line(studio.trading_name), address)),
        to=[formataddr((_one_line(message.recipient_name), _mailbox(message)))],
        reply_to=answer_to,
        headers={
            "Message-ID": message.message_id,
            "Date": format_datetime(message.written_at),
        },
    )
    for file in message.files.order_by("pk"):
        if file.content_type.startswith(INVITATION):
            # mail programs look for it beside the text, not among the attachments
            email.attach_alternative(bytes(file.content).decode(), file.content_type)
        else:
            email.attach(file.name, bytes(file.content), file.content_type)
    try:
        email.message().as_bytes()
    except ValueError as fault:
        raise LetterError(f"The message cannot be written: {fault}") from fault
    return email


def link_address(link: PrivateLink, public_address: str) -> str:
    """Return the whole address of a private link."""
    word = link.purpose.lower().replace("_", "-")
    return f"{public_address.rstrip('/')}/p/{word}/{token_of(link)}/"


def _body(message: Message, public_address: str) -> str:
    link = message.link
    if link is None or PLACE not in message.body:
        return message.body
    if not public_address:
        raise LetterError(
            "The message holds a private link, and the studio has no public address."
        )
    if link.revoked_at:
        raise LetterError("The private link in this message was taken back.")
    if not opens(token_of(link), link):
        raise LetterError(
            "The private link was made under another secret key. Make a new one."
        )
    return message.body.replace(PLACE, link_address(link, public_address))


def _mailbox(message: Message) -> str:
    """Return the reader's address in the letters that every mail server takes."""
    user, _, domain = message.address.rpartition("@")
    if not user or not domain:
        raise LetterError("The message has no address to go to.")
    if not user.isascii():
        raise LetterError(
            "Mail servers do not take letters outside a–z before the @: "
            f"{message.address}"
        )
    try:
        return f"{user}@{punycode(domain)}"
    except UnicodeError as fault:
        raise LetterError(f"No domain is written like this: {domain}") from fault


def _one_line(words: str) -> str:
    return " ".join(words.split())
