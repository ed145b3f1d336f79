"""The letters that follow a yes or a question."""

from __future__ import annotations

from datetime import datetime

from invoicing.quotes.models import Acceptance, ClientQuestion, Quote
from studio.links.models import LinkPurpose, PrivateLink
from studio.mail.operations import Letter, write_message
from studio.profile.models import StudioProfile
from studio.wording import long_date, money_words, phone_words

NO_INVOICE = "This is a request to pay. It is not a tax invoice."


def tell_studio(acceptance: Acceptance, *, at: datetime) -> None:
    """Write to the studio that a client said yes on the private page."""
    if acceptance.recorded_by:
        return
    quote = acceptance.quote
    chosen = acceptance.package_name
    package = f" Package: {chosen}." if chosen else ""
    body = (
        f"{acceptance.name} said yes to {quote} for “{quote.job.title}”, "
        f"{money_words(acceptance.total)} in all.{package}\n\n"
        f"{_what_follows(acceptance)}\n"
    )
    occasion = f"accepted:{acceptance.pk}"
    _to_studio(quote, occasion, f"{quote.number} was accepted", body, at=at)


def tell_client(acceptance: Acceptance, *, at: datetime) -> None:
    """Write to the client that their yes is recorded, and what to pay by when."""
    quote, profile = acceptance.quote, StudioProfile.load()
    client = quote.job.client
    if not client.email:
        return
    link = live_link(quote, at=at) if profile.public_address else None
    page = "\n\nAll of it, to read again at any time:\n{link}" if link else ""
    body = (
        f"Dear {client.addressee},\n\nthank you. The yes to {quote.number} by "
        f"{acceptance.name} is recorded: {money_words(acceptance.total)} in all."
        f"{_to_pay(acceptance, profile)}{page}\n\n"
        f"{profile.owner_name or profile.trading_name}\n"
    )
    write_message(
        occasion=f"thanks:{acceptance.pk}",
        about=quote,
        letter=Letter(
            address=client.email,
            recipient_name=client.addressee,
            subject=f"Your yes to {quote.number}",
            body=body,
        ),
        at=at,
        link=link,
    )


def pass_question_on(question: ClientQuestion, *, at: datetime) -> None:
    """Write to the studio what a client asks."""
    quote = question.quote
    client = quote.job.client
    reach = ", ".join(
        part for part in (client.email, phone_words(client.phone)) if part
    )
    body = (
        f"{client} asks about {quote}, “{quote.job.title}”:\n\n{question.words}\n\n"
        f"{reach}\n"
    )
    occasion = f"question:{question.pk}"
    _to_studio(quote, occasion, f"A question about {quote.number}", body, at=at)


def tell_of_no(quote: Quote, *, at: datetime) -> None:
    """Write to the studio that a client said no on the private page, and why."""
    why = quote.get_decline_reason_display() or "No reason was given"
    words = f"\n\n“{quote.decline_words}”" if quote.decline_words else ""
    body = (
        f"{quote.job.client} said no to {quote} for “{quote.job.title}”.\n\n"
        f"{why}.{words}\n"
    )
    occasion = f"declined:{quote.pk}"
    _to_studio(quote, occasion, f"{quote.number} was declined", body, at=at)


def live_link(quote: Quote, *, at: datetime) -> PrivateLink | None:
    """Return the private link that opens a quote now, if there is one."""
    links = PrivateLink.objects.of(LinkPurpose.QUOTE, quote.pk).live(at=at)
    return links.order_by("-pk").first()


def _what_follows(acceptance: Acceptance) -> str:
    if not acceptance.deposit_minor:
        return "Nothing is to be paid before the session."
    return (
        f"The deposit of {money_words(acceptance.deposit)} is due by "
        f"{long_date(acceptance.deposit_due_on)}; its invoice stands drafted."
    )


def _to_pay(acceptance: Acceptance, profile: StudioProfile) -> str:
    if not acceptance.deposit_minor:
        return "\n\nNothing is to be paid now."
    quote = acceptance.quote
    rows = account_rows(profile)
    account = "".join(f"\n{label}: {value}" for label, value in rows)
    return (
        f"\n\nPlease pay {money_words(acceptance.deposit)} by "
        f"{long_date(acceptance.deposit_due_on)}, with the reference {quote.number}."
        f"{account}\n\n{NO_INVOICE}"
    )


def account_rows(profile: StudioProfile) -> list[tuple[str, str]]:
    """Return the studio's account, a line each; nothing that is not filled in."""
    rows = (
        ("Account name", profile.account_name),
        ("Sort code", profile.sort_code),
        ("Account number", profile.account_number),
        ("IBAN", profile.iban),
        ("BIC", profile.bic),
    )
    return [(label, value) for label, value in rows if value]


def _to_studio(
    quote: Quote, occasion: str, subject: str, body: str, *, at: datetime
) -> None:
    profile = StudioProfile.load()
    if not profile.email:
        return
    letter = Letter(
        address=profile.email,
        recipient_name=profile.owner_name,
        subject=subject,
        body=body,
    )
    write_message(occasion=occasion, about=quote, letter=letter, at=at)
