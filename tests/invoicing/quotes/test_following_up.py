"""Reminders before a quote runs out, and the no with its reason."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from invoicing.quotes import tasks
from invoicing.quotes.declining import No, decline_quote
from invoicing.quotes.models import Quote
from invoicing.quotes.operations import QuoteError, new_version
from invoicing.quotes.panels import quotes_to_do
from invoicing.quotes.reminding import is_due, remind_of_quote
from invoicing.quotes.sending import letter_for, send_quote
from studio.history.models import ActorKind, JournalEntry
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from tests.make import NOON, make_client, make_job, make_person
from tests.make_quotes import TERMS, open_quote, path_of, sent_quote

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]
DAYS = timedelta(days=1)
REMINDERS = "quote-reminder:"


def reminders() -> list[Message]:
    return list(Message.objects.filter(occasion__startswith=REMINDERS))


@pytest.mark.parametrize(
    ("after", "due"), [(0, False), (10, False), (11, True), (14, True), (15, False)]
)
def test_a_reminder_is_due_near_the_end_only(after: int, due: bool) -> None:
    quote = sent_quote(
        with_session=False
    )  # its price holds for 14 days; 3 days before is the setting

    assert is_due(quote, at=NOON + after * DAYS) is due


def test_a_quote_is_not_reminded_of_on_the_day_it_went_out_or_if_not_wanted() -> None:
    soon = replace(TERMS, valid_until_on=NOON.date() + 2 * DAYS)
    quote = sent_quote(terms=soon)

    assert not is_due(quote, at=NOON)
    assert is_due(quote, at=NOON + DAYS)
    StudioProfile.objects.update(quote_reminder_days=0)
    assert not is_due(quote, at=NOON + DAYS)


def test_a_quote_whose_session_is_over_is_not_reminded_of() -> None:
    quote = sent_quote()  # its session is 10 days later, its price holds for 14

    assert not is_due(quote, at=NOON + 12 * DAYS)


def test_a_version_is_reminded_of_once_and_the_next_one_anew() -> None:
    quote = sent_quote(with_session=False)
    by = quote.job.owner

    for _ in range(2):
        remind_of_quote(quote_id=quote.pk, letter=None, at=NOON + 12 * DAYS, by=by)

    (message,) = reminders()
    assert message.address == quote.job.client.email
    assert "holds until Sunday 5 July 2026" in message.body
    assert JournalEntry.objects.filter(verb="reminded").count() == 1
    later = NOON + 13 * DAYS
    second = new_version(quote_id=quote.pk, by=by, at=later)
    send_quote(quote_id=second.pk, letter=letter_for(second), by=by, at=later)
    remind_of_quote(quote_id=second.pk, letter=None, at=later + 12 * DAYS)
    assert len(reminders()) == 2


def test_what_is_answered_or_lapsed_is_not_reminded_of() -> None:
    lapsed = sent_quote()
    with pytest.raises(QuoteError, match="not open any more"):
        remind_of_quote(quote_id=lapsed.pk, letter=None, at=NOON + 15 * DAYS)

    decline_quote(quote_id=lapsed.pk, no=No(), at=NOON)
    with pytest.raises(QuoteError, match="not open any more"):
        remind_of_quote(quote_id=lapsed.pk, letter=None, at=NOON + DAYS)
    assert not reminders()


@pytest.mark.parametrize(
    ("hour", "by_itself", "sent"), [(8, True, 0), (9, True, 1), (9, False, 0)]
)
def test_reminders_go_by_themselves_after_nine_if_the_owner_says_so(
    monkeypatch: pytest.MonkeyPatch, hour: int, by_itself: bool, sent: int
) -> None:
    sent_quote(with_session=False)
    StudioProfile.objects.update(quote_reminder_by_itself=by_itself)
    local = (NOON + 12 * DAYS).astimezone(StudioProfile.load().zone)

    class Clock:
        @staticmethod
        def now() -> datetime:
            return local.replace(hour=hour, minute=0)

    monkeypatch.setattr(tasks, "timezone", Clock)
    tasks.remind_of_quotes()
    tasks.remind_of_quotes()

    assert len(reminders()) == sent


def test_the_letter_is_read_and_changed_before_it_goes(client: Browser) -> None:
    quote = open_quote()
    client.force_login(quote.job.owner)
    path = reverse("invoicing:quote_remind", args=[quote.pk])
    assert "{link}" in client.get(path).content.decode()

    client.post(path, {"subject": "A word", "body": "Still there? {link}"})

    (message,) = reminders()
    assert (message.subject, message.body) == ("A word", "Still there? {link}")
    assert client.get(path).status_code == 302
    page = client.get(reverse("invoicing:quotes")).content.decode()
    assert "Reminded" in page


def test_today_tells_of_several_that_run_out_this_week_as_one() -> None:
    soon = replace(TERMS, valid_until_on=NOON.date() + 5 * DAYS)
    first = sent_quote(terms=soon)
    owner = first.job.owner
    alone = [item.title for item in quotes_to_do(owner, NOON)]
    sent_quote(make_job("Other", client=make_client("Other")), terms=soon)

    (item,) = quotes_to_do(owner, NOON)

    assert alone == []
    assert item.title == "Two quotes run out this week"
    assert "£420.00, until Friday" in item.reason
    assert item.url == reverse("invoicing:quotes")


def test_a_client_says_no_on_the_page_and_the_studio_is_told_why(
    client: Browser, quote: Quote
) -> None:
    path = f"{path_of(quote)}decline/"
    page = client.get(path).content.decode()
    assert "I would rather not say" in page

    done = client.post(path, {"reason": "PRICE", "words": "Too much this year."})

    quote.refresh_from_db()
    assert "Thank you for telling us" in done.content.decode()
    assert (quote.state, quote.decline_reason) == ("DECLINED", "PRICE")
    letter = Message.objects.get(occasion=f"declined:{quote.pk}")
    assert "The price.\n\n“Too much this year.”" in letter.body
    entry = JournalEntry.objects.filter(verb="declined").get()
    assert entry.actor_kind == ActorKind.CLIENT
    client.post(path, {"reason": "DATE"})
    quote.refresh_from_db()
    assert quote.decline_reason == "PRICE"


def test_the_owner_records_a_no_with_its_reason(client: Browser, quote: Quote) -> None:
    client.force_login(make_person("Ada Owner"))
    path = reverse("invoicing:quote_decline", args=[quote.pk])
    assert client.post(path, {"words": "x"}).status_code == 422

    client.post(path, {"reason": "ELSEWHERE", "words": "A cousin does it."})

    page = client.get(quote.get_absolute_url()).content.decode()
    assert "They chose somebody else" in page
    assert "A cousin does it." in page
    assert not Message.objects.filter(occasion__startswith="declined:").exists()
    assert timezone.now() - Quote.objects.get().declined_at < DAYS  # type: ignore[operator]
