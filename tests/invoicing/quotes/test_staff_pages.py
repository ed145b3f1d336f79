from dataclasses import replace
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from invoicing.quotes.asking import ask_question
from invoicing.quotes.models import Acceptance, ClientQuestion, How, Quote
from invoicing.quotes.operations import let_quote_lapse
from invoicing.quotes.states import QuoteState
from studio.mail.models import Message
from studio.profile.models import StudioProfile
from tests.make import make_client, make_job, make_person
from tests.make_quotes import SESSION, fresh_draft, make_quote, open_quote, path_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft() -> Quote:
    return fresh_draft()


@pytest.fixture
def owner(client: Browser) -> Browser:
    client.force_login(make_person("Wren Owner"))
    return client


def url(name: str, quote: Quote) -> str:
    return reverse(f"invoicing:{name}", args=[quote.pk])


def test_the_letter_is_shown_changed_and_sent(owner: Browser, draft: Quote) -> None:
    page = owner.get(url("quote_send", draft)).content.decode()
    assert "Dear Meyer Bakery," in page
    assert "{link}" in page
    assert "£420.00" in page

    owner.post(
        url("quote_send", draft),
        {"subject": "Our quote", "body": "Dear all, here it is: {link}"},
    )

    draft.refresh_from_db()
    message = Message.objects.get(occasion=f"quote:{draft.pk}")
    assert draft.state == QuoteState.SENT
    assert (message.subject, message.body) == (
        "Our quote",
        "Dear all, here it is: {link}",
    )
    again = owner.post(url("quote_send", draft), {"subject": "x", "body": "{link}"})
    assert again.status_code == 302
    assert Message.objects.count() == 1


def test_a_letter_that_lost_its_link_is_not_sent(owner: Browser, draft: Quote) -> None:
    page = owner.post(url("quote_send", draft), {"subject": "x", "body": "Hello"})

    assert "Keep {link} in the letter" in page.content.decode()
    draft.refresh_from_db()
    assert draft.state == QuoteState.DRAFT


def test_the_owner_is_cautioned_about_withdrawal(owner: Browser, draft: Quote) -> None:
    page = owner.get(url("quote_send", draft)).content.decode()
    assert "Northsill does not judge it" in page

    StudioProfile.objects.update(withdrawal_words="Fourteen days, by letter.")
    page = owner.get(url("quote_send", draft)).content.decode()
    assert "Fourteen days, by letter." in page
    assert "Northsill does not judge it" in page


def test_a_quote_is_given_by_hand_to_a_client_without_mail(owner: Browser) -> None:
    quote = fresh_draft(make_job(client=make_client(email="")))

    assert "no e-mail address" in owner.get(url("quote_send", quote)).content.decode()
    owner.post(url("quote_send", quote), {"by_hand": "1"})

    quote.refresh_from_db()
    assert quote.state == QuoteState.SENT
    page = owner.get(quote.get_absolute_url()).content.decode()
    assert "Given by hand" in page


def test_the_page_of_a_sent_quote_leads_to_what_the_client_sees(
    owner: Browser,
) -> None:
    quote = open_quote()

    page = owner.get(quote.get_absolute_url()).content.decode()

    assert path_of(quote) in page
    assert "not opened yet" in page
    Browser().get(path_of(quote))
    page = owner.get(quote.get_absolute_url()).content.decode()
    assert "first opened" in page


def test_a_yes_by_phone_is_recorded_like_one_on_the_page(owner: Browser) -> None:
    quote = open_quote()
    extra = quote.lines.get(optional=True)
    now = timezone.localtime(timezone.now(), StudioProfile.load().zone)

    owner.post(
        url("quote_yes", quote),
        {
            "name": "Merle Tarn",
            "how": "PHONE",
            "said_on": now.date().isoformat(),
            "said_at": f"{now:%H:%M}",
            "extras": [str(extra.pk)],
        },
    )

    acceptance = Acceptance.objects.get()
    assert (acceptance.how, acceptance.name) == (How.PHONE, "Merle Tarn")
    assert acceptance.total_minor == 51_500
    assert acceptance.recorded_by is not None
    assert acceptance.network_address == ""
    text = owner.get(quote.get_absolute_url()).content.decode()
    assert "Recorded by Wren Owner" in text
    assert "Thank you" in Browser().get(path_of(quote)).content.decode()


def test_a_signed_paper_is_kept_as_a_scan_without_its_metadata(owner: Browser) -> None:
    quote = open_quote()
    picture = BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "PNG")
    now = timezone.localtime(timezone.now(), StudioProfile.load().zone)

    owner.post(
        url("quote_yes", quote),
        {
            "name": "Merle Tarn",
            "how": "PAPER",
            "said_on": now.date().isoformat(),
            "said_at": f"{now:%H:%M}",
            "scan": SimpleUploadedFile("yes.png", picture.getvalue()),
        },
    )

    answer = owner.get(url("quote_scan", quote))
    content = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    assert answer["Content-Type"] == "image/jpeg"
    assert Image.open(BytesIO(content)).size == (40, 30)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"said_on": "2150-01-01"}, "still to come"),
        ({"said_on": "2020-01-01"}, "had not gone out by then"),
        ({"how": "PAGE"}, "Select a valid choice"),
        ({"name": ""}, "Fill in"),
    ],
)
def test_a_yes_that_cannot_be_is_refused(
    owner: Browser, change: dict[str, str], said: str
) -> None:
    quote = open_quote()
    now = timezone.localtime(timezone.now(), StudioProfile.load().zone)
    posted = {
        "name": "Merle Tarn",
        "how": "PHONE",
        "said_on": now.date().isoformat(),
        "said_at": f"{now:%H:%M}",
    }

    page = owner.post(url("quote_yes", quote), posted | change)

    assert page.status_code == 422
    assert said in page.content.decode()
    assert not Acceptance.objects.exists()


def test_a_scan_that_is_none_is_refused_in_words(owner: Browser) -> None:
    quote = open_quote()
    now = timezone.localtime(timezone.now(), StudioProfile.load().zone)
    posted = {
        "name": "Merle Tarn",
        "how": "PAPER",
        "said_on": now.date().isoformat(),
        "said_at": f"{now:%H:%M}",
        "scan": SimpleUploadedFile("yes.png", b"%!PS-Adobe EPSF"),
    }

    page = owner.post(url("quote_yes", quote), posted)

    assert "could not be read" in page.content.decode()
    assert not Acceptance.objects.exists()


def test_a_lapsed_quote_may_still_get_its_yes_or_a_new_version(owner: Browser) -> None:
    quote = open_quote()
    let_quote_lapse(quote_id=quote.pk, at=timezone.now())

    page = owner.get(quote.get_absolute_url()).content.decode()
    assert "Record a yes" in page
    owner.post(url("quote_version", quote))

    assert Quote.objects.filter(number=quote.number).count() == 2


def test_questions_stand_on_the_quote_until_they_are_answered(owner: Browser) -> None:
    quote = open_quote()
    asked = ask_question(
        quote_id=quote.pk, words="May the dog come?", at=timezone.now()
    )
    assert "May the dog come?" in owner.get(quote.get_absolute_url()).content.decode()

    owner.post(reverse("invoicing:question_answered", args=[asked.pk]))

    assert ClientQuestion.objects.get().answered_at is not None


@pytest.mark.parametrize("hat", ["planner", "bookkeeper"])
def test_who_may_not_send_or_record_is_refused(client: Browser, hat: str) -> None:
    quote = open_quote()
    client.force_login(make_person("Sol Other", hats=hat))

    assert client.get(quote.get_absolute_url()).status_code == 200
    for name in ("quote_send", "quote_yes", "quote_decline"):
        assert client.post(url(name, quote)).status_code == 403
    may_draft = hat == "planner"
    answer = client.post(url("quote_version", quote))
    assert answer.status_code == (302 if may_draft else 403)
    start = reverse("invoicing:quote_start", args=[quote.job_id])
    assert client.post(start, {}).status_code == (422 if may_draft else 403)


def test_a_bookkeeper_reads_a_draft_without_its_costs(client: Browser) -> None:
    quote = make_quote(lines=(replace(SESSION, cost_minor=1_871),))
    client.force_login(make_person("Bo Ketley", hats="bookkeeper"))

    page = client.get(quote.get_absolute_url()).content.decode()

    assert "Family session" in page
    assert "18.71" not in page
    assert "Your own costs" not in page
    assert "<input" not in page.split("</header>")[1].split("</main>")[0]


def test_the_paper_is_given_as_a_file_with_a_plain_name(owner: Browser) -> None:
    StudioProfile.load()
    StudioProfile.objects.update(quote_pattern='Q/"{year}"ä{place}')
    quote = open_quote()

    answer = owner.get(url("quote_pdf", quote))

    name = answer["Content-Disposition"]
    assert answer["Content-Type"] == "application/pdf"
    assert name.count('"') == 2
    assert name.isascii()
    assert "/" not in name
