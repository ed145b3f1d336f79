"""The pack of a closed period, handed to somebody who does not sign in."""

import io
import zipfile
from datetime import timedelta

import pytest
from django.test import Client as Browser

from invoicing.books.operations import close_period
from invoicing.periods.calendar import period_of
from invoicing.periods.models import ClosedPeriod
from invoicing.sharing.models import PackShare
from studio.history.models import ActorKind, JournalEntry
from studio.links.operations import token_of
from studio.mail.letters import write_out
from studio.mail.models import Message
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.make import NOON, make_person, make_profile
from tests.make_invoicing import make_invoice
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(days=30)
READER = {"name": "Ines Ro", "address": "ines@ro.example", "days": 14, "form_key": "k"}


@pytest.fixture
def ada(monkeypatch: pytest.MonkeyPatch) -> Person:
    monkeypatch.setattr("django.utils.timezone.now", lambda: LATER)
    make_profile()
    return make_person()


@pytest.fixture
def period(ada: Person) -> ClosedPeriod:
    make_invoice()
    span = period_of(NOON.date(), months=3, first_month=1)
    return close_period(span=span, by=ada, at=LATER)


@pytest.fixture
def browser(ada: Person, client: Browser) -> Browser:
    client.force_login(ada)
    return client


def hand_out(browser: Browser, period: ClosedPeriod, **changed: object) -> str:
    path = f"/money/closed/{period.pk}/share/"
    sent = READER | changed
    shown = browser.post(path, sent)
    if letter := shown.context and shown.context["letter"]:
        answer = browser.post(path, sent | dict(letter.initial) | {"go": "1"})
        assert answer.status_code == 302, answer.content
    share = PackShare.objects.latest("pk")
    assert share.link
    return f"/p/books/{token_of(share.link)}/"


def test_the_letter_is_read_before_it_goes(
    browser: Browser, period: ClosedPeriod
) -> None:
    path = f"/money/closed/{period.pk}/share/"
    page = browser.post(path, READER)

    assert "Nothing has gone yet." in page.content.decode()
    assert "until Tuesday 4 August 2026" in page.context["letter"].initial["words"]
    assert not Message.objects.exists()
    lost = {"subject": "Books", "words": "No place for it", "go": "1"}
    assert browser.post(path, READER | lost).status_code == 422
    assert browser.post(path, READER | {"days": 91}).status_code == 422

    address = hand_out(browser, period)
    hand_out(browser, period)  # the same form sent twice
    assert f"https://studio.example{address}" in str(
        write_out(Message.objects.get()).body
    )
    assert PackShare.objects.count() == 1


def test_the_page_says_what_is_inside_and_each_download_is_journalled(
    browser: Browser, period: ClosedPeriod
) -> None:
    address, stranger = hand_out(browser, period), Browser()

    words = Markup(stranger.get(address).content.decode()).words
    assert "papers/" in words
    assert "Opens until Tue 4 Aug 2026" in words
    assert not JournalEntry.objects.filter(verb="pack downloaded").exists()
    assert stranger.get(f"{address}pack/").status_code == 405

    answer = stranger.post(f"{address}pack/")
    names = zipfile.ZipFile(io.BytesIO(answer.content)).namelist()
    assert {"summary.txt", "journal.csv", "payments.csv"} <= set(names)
    entry = JournalEntry.objects.get(verb="pack downloaded")
    assert (entry.actor_kind, entry.by) == (ActorKind.CLIENT, None)
    slug = period.starts_on.isoformat()
    shown = browser.get(f"/money/books/{slug}/").content.decode()
    assert "downloaded 1 time" in shown


def test_the_page_ends_and_is_closed_by_hand(
    browser: Browser, period: ClosedPeriod, monkeypatch: pytest.MonkeyPatch
) -> None:
    address = hand_out(browser, period)
    other = hand_out(browser, period, form_key="b", address="")
    assert Message.objects.count() == 1
    first = PackShare.objects.earliest("pk")

    browser.post(f"/money/shares/{first.pk}/close/")
    assert Browser().get(address).status_code == 404
    assert Browser().post(f"{address}pack/").status_code == 404
    assert Browser().get(other).status_code == 200

    ended = LATER + timedelta(days=14)
    monkeypatch.setattr("django.utils.timezone.now", lambda: ended)
    assert Browser().get(other).status_code == 404


def test_no_letter_without_a_public_address(
    browser: Browser, period: ClosedPeriod
) -> None:
    StudioProfile.objects.update(public_address="")
    sent = READER | {"subject": "a", "words": "{link}", "go": "1"}

    answer = browser.post(f"/money/closed/{period.pk}/share/", sent)

    assert answer.status_code == 422
    assert "which is not set" in answer.content.decode()
    assert not PackShare.objects.exists()
