from datetime import timedelta
from io import BytesIO
from types import SimpleNamespace

import pytest
from django.test import Client as Browser
from django.utils import timezone
from pypdf import PdfReader

from invoicing.quotes.models import Acceptance, ClientQuestion, Quote
from jobs.bookings.operations import cancel_booking, confirm_booking, let_hold_lapse
from studio import visitors
from studio.history.models import JournalEntry
from studio.links.models import PrivateLink
from studio.mail.models import Message
from tests.invoicing.quotes.client_answers import say_yes
from tests.make import make_booking, make_client, make_item, make_job, make_person
from tests.make_quotes import open_quote, path_of

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("forget_visitors")]


def test_a_client_reads_accepts_and_is_told_what_to_pay(
    client: Browser, quote: Quote
) -> None:
    page = client.get(path_of(quote))
    text = page.content.decode()
    assert page.status_code == 200
    assert "£420.00" in text
    assert "VAT of £70.00 is in it" in text
    assert "Daylight" in text

    text = say_yes(client, quote)

    assert "Pay £100.00 by" in text
    assert "It is not a tax invoice." in text
    assert "00-00-00" in text
    assert quote.number in text
    assert Acceptance.objects.get().name == "Merle Tarn"


def test_the_page_is_kept_by_nobody_and_sends_nothing_on(
    client: Browser, quote: Quote
) -> None:
    page = client.get(path_of(quote))

    # "no-referrer" would make browsers post with "Origin: null", which is refused.
    assert page["Referrer-Policy"] == "same-origin"
    assert page["Cache-Control"] == "no-store"
    assert "noindex" in page["X-Robots-Tag"]


def test_a_post_needs_the_pages_own_token() -> None:
    quote = open_quote()
    browser = Browser(enforce_csrf_checks=True)

    answer = browser.post(path_of(quote), {"name": "Merle Tarn", "agreed": "42000"})

    assert answer.status_code == 403
    assert not Acceptance.objects.exists()


def test_reading_changes_nothing_but_the_note_of_the_visit(
    client: Browser, quote: Quote
) -> None:
    path = path_of(quote)
    journal, letters = JournalEntry.objects.count(), Message.objects.count()

    for _ in range(5):  # as mail scanners and previews do
        for part in ("", "price/", "terms/", "pdf/", "question/", "calendar/"):
            assert client.get(f"{path}{part}").status_code == 200
            client.head(f"{path}{part}")
            client.options(f"{path}{part}")

    quote.refresh_from_db()
    assert quote.state == "SENT"
    assert not Acceptance.objects.exists()
    assert not ClientQuestion.objects.exists()
    assert JournalEntry.objects.count() == journal
    assert Message.objects.count() == letters
    assert PrivateLink.objects.get().uses > 0


def test_the_studio_looking_itself_is_no_visit(client: Browser, quote: Quote) -> None:
    client.force_login(quote.job.owner)

    client.get(path_of(quote))

    assert PrivateLink.objects.get().uses == 0


def test_nothing_is_ticked_beforehand(client: Browser, quote: Quote) -> None:
    assert " checked" not in client.get(path_of(quote)).content.decode()


@pytest.mark.parametrize("name", ["", " ", "x", "12 34"])
def test_a_yes_without_a_name_is_refused_beside_the_field(
    client: Browser, quote: Quote, name: str
) -> None:
    extra = quote.lines.get(optional=True)
    posted = {"name": name, "agreed": "51500", "extra": extra.pk, "may_show": "on"}
    page = client.post(path_of(quote), posted)

    text = page.content.decode()
    assert page.status_code == 422
    assert 'id="id_name_error"' in text
    assert text.count(" checked") == 2
    assert "£515.00" in text
    assert not Acceptance.objects.exists()


def test_ticked_extras_move_the_price_and_are_agreed_to(
    client: Browser, quote: Quote
) -> None:
    extra = quote.lines.get(optional=True)
    path = path_of(quote)

    price = client.get(f"{path}price/", {"extra": extra.pk}).content.decode()
    assert "£515.00" in price
    assert "VAT of £85.83 is in it" in price
    assert "The rest, £415.00" in price
    say_yes(client, quote, extra=extra.pk, agreed="51500")

    assert Acceptance.objects.get().total_minor == 51_500


def test_without_script_the_price_is_shown_before_it_is_agreed_to(
    client: Browser, quote: Quote
) -> None:
    extra = quote.lines.get(optional=True)
    path = path_of(quote)
    ticked = {"name": "Merle Tarn", "extra": extra.pk, "agreed": "42000"}

    refused = client.post(path, ticked)
    assert refused.status_code == 409
    assert "the price is £515.00" in refused.content.decode()
    assert not Acceptance.objects.exists()

    looked = client.post(path, ticked | {"look": "1"})
    text = looked.content.decode()
    assert looked.status_code == 200
    assert 'name="agreed" value="51500"' in text
    assert 'value="Merle Tarn"' in text
    assert not Acceptance.objects.exists()


def test_extras_of_another_quote_cannot_be_slipped_in(
    client: Browser, quote: Quote
) -> None:
    other = open_quote(make_job(client=make_client("Other")))
    foreign = other.lines.get(optional=True)

    say_yes(client, quote, extra=[foreign.pk, "x", "-1", "9" * 30])

    assert Acceptance.objects.get().total_minor == 42_000


def test_the_second_yes_is_told_of_the_first(client: Browser, quote: Quote) -> None:
    say_yes(client, quote)

    posted = {"name": "Somebody Else", "agreed": "42000"}
    page = client.post(path_of(quote), posted)

    assert page.status_code == 409
    assert "already accepted by Merle Tarn" in page.content.decode()
    assert Acceptance.objects.count() == 1


def test_a_taken_time_says_so_kindly_and_names_nobody(client: Browser) -> None:
    tripod = make_item()
    job = make_job("Your family session")
    start = timezone.now() + timedelta(days=10)
    make_booking(job=job, items=(tripod,), starts_at=start)
    quote = open_quote(job)
    rival = make_booking(
        job=make_job("Secret wedding", client=make_client("Other")),
        items=(tripod,),
        starts_at=start,
    )
    confirm_booking(booking_id=rival.pk, by=make_person(), at=timezone.now())

    page = client.post(path_of(quote), {"name": "Merle Tarn", "agreed": "42000"})

    text = page.content.decode()
    assert page.status_code == 409
    assert "That time has just gone" in text
    assert "01632 960001" in text
    assert "Ask for another date" in text
    assert "Secret wedding" not in text
    assert "Tripod" not in text
    assert not Acceptance.objects.exists()


def test_a_moved_session_is_not_accepted_from_an_old_quote(
    client: Browser, quote: Quote
) -> None:
    cancel_booking(
        booking_id=quote.job.bookings.get().pk, by=quote.job.owner, at=timezone.now()
    )

    page = client.post(path_of(quote), {"name": "Merle Tarn", "agreed": "42000"})

    assert "That date has changed" in page.content.decode()
    assert not Acceptance.objects.exists()


def test_a_question_reaches_the_studio_once(client: Browser, quote: Quote) -> None:
    path = f"{path_of(quote)}question/"

    pages = [client.post(path, {"words": "May the dog come?"}) for _ in range(2)]

    assert "Thank you, we have it" in pages[1].content.decode()
    assert ClientQuestion.objects.get().words == "May the dog come?"
    message = Message.objects.get(occasion__startswith="question:")
    assert message.address == "ada@vane.example"
    assert "May the dog come?" in message.body
    assert client.post(path, {"words": " "}).status_code == 422


def test_the_choice_to_show_is_changed_only_after_the_yes(
    client: Browser, quote: Quote
) -> None:
    path = f"{path_of(quote)}showing/"
    client.post(path, {"may_show": "yes"})
    quote.job.refresh_from_db()
    assert quote.job.may_show_pictures is None

    say_yes(client, quote)
    client.post(path, {"may_show": "yes"})
    quote.job.refresh_from_db()
    assert quote.job.may_show_pictures is True
    assert "yes, you allow it" in client.get(path_of(quote)).content.decode()
    client.post(path, {"may_show": "no"})
    quote.job.refresh_from_db()
    assert quote.job.may_show_pictures is False
    assert Acceptance.objects.get().may_show_pictures is False


def test_the_copy_carries_the_yes_with_its_extras(
    client: Browser, quote: Quote
) -> None:
    extra = quote.lines.get(optional=True)
    say_yes(client, quote, extra=extra.pk, agreed="51500")

    answer = client.get(f"{path_of(quote)}pdf/")

    content = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    words = " ".join(PdfReader(BytesIO(content)).pages[0].extract_text().split())
    assert "By Merle Tarn, on the private page" in words
    assert "Agreed: £515.00 in all. With: One framed print." in words
    assert "stay private" in words
    assert answer["Content-Disposition"].startswith("attachment")


def test_the_calendar_file_is_read_by_others(client: Browser, quote: Quote) -> None:
    quote.job.title = "Zoë’s, “first”; family\\ session " + "ä" * 60
    quote.job.save()

    answer = client.get(f"{path_of(quote)}calendar/")

    # RFC 5545: CRLF, lines of 75 octets at most, text escaped (from memory).
    lines = answer.content.split(b"\r\n")
    assert answer["Content-Type"].startswith("text/calendar")
    assert max(len(line) for line in lines) <= 75
    whole = answer.content.replace(b"\r\n ", b"").decode()
    assert "SUMMARY:Zoë’s\\, “first”\\; family\\\\ session" in whole
    booking = quote.job.bookings.get()
    assert f"DTSTART:{booking.starts_at:%Y%m%dT%H%M%S}Z" in whole


@pytest.mark.parametrize(
    ("act", "said"),
    [("lapse", "is free again"), ("cancel", "called off"), ("confirm", "is firm")],
)
def test_the_page_after_the_yes_tells_what_became_of_the_session(
    client: Browser, quote: Quote, act: str, said: str
) -> None:
    say_yes(client, quote)
    booking, by, at = quote.job.bookings.get(), quote.job.owner, timezone.now()
    if act == "lapse":
        let_hold_lapse(booking_id=booking.pk, at=at)
    elif act == "cancel":
        cancel_booking(booking_id=booking.pk, by=by, at=at)
    else:
        confirm_booking(booking_id=booking.pk, by=by, at=at)

    assert said in client.get(path_of(quote)).content.decode()


def test_more_posts_than_a_person_makes_are_turned_away(
    client: Browser, quote: Quote, monkeypatch: pytest.MonkeyPatch
) -> None:
    # One minute for all of them, however slow the machine.
    minute = timezone.now()
    monkeypatch.setattr(visitors, "timezone", SimpleNamespace(now=lambda: minute))
    path = f"{path_of(quote)}question/"

    answers = [client.post(path, {"words": ""}).status_code for _ in range(61)]

    assert answers[:30] == [422] * 30
    assert answers[-1] == 429
    other = client.post(path, {"words": ""}, REMOTE_ADDR="192.0.2.9")
    assert other.status_code == 422
