"""Letters: worded once, filled from the session, sent once, shown or by themselves."""

from datetime import datetime, timedelta

import pytest
from django.test import Client as Browser

from jobs.bookings.models import Booking
from jobs.bookings.operations import confirm_booking
from jobs.letters.filling import fill, unknown_gaps
from jobs.letters.kinds import FACTS, USUAL, LetterKind
from jobs.letters.models import SentLetter
from jobs.letters.operations import LetterError, keep_wording, send_letter
from jobs.letters.queries import (
    Wording,
    due_at,
    due_letters,
    facts_of,
    is_due,
    letters_of,
    wordings,
)
from jobs.letters.tasks import send_due_letters
from studio.mail.models import Message
from studio.panels import today_items
from tests.make import NOON, make_booking, make_profile
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db
STARTS = NOON + timedelta(days=20, hours=2)


@pytest.fixture
def booking() -> Booking:
    make_profile(wear_words="Plain colours", pictures_days=10)
    made = make_booking(starts_at=STARTS)
    client = made.job.client
    client.email = "kestle@client.example"
    client.save()
    confirm_booking(booking_id=made.pk, by=made.job.owner, at=NOON)
    return Booking.objects.select_related("job__client", "place").get(pk=made.pk)


def words(kind: LetterKind, *, by_itself: bool = False, off: bool = False) -> Wording:
    usual = USUAL[kind]
    return Wording(
        kind=kind,
        subject=usual.subject,
        body=usual.body,
        by_itself=by_itself,
        is_off=off,
    )


class TestFilling:
    def test_gaps_are_filled_once_and_only_by_facts(self) -> None:
        facts = {"name": "Ada {{day}}", "day": "Friday"}

        assert (
            fill("Dear {{name}}, on {{ day }}.", facts)
            == "Dear Ada {{day}}, on Friday."
        )

    def test_what_looks_like_a_programme_does_nothing(self) -> None:
        text = "{% load x %}{{ settings.SECRET_KEY }}{0.__class__} %(name)s"

        assert fill(text, {"name": "Ada"}) == text
        assert unknown_gaps(text, FACTS) == ["settings.SECRET_KEY"]

    def test_the_first_words_name_known_facts_only(self) -> None:
        for usual in USUAL.values():
            assert unknown_gaps(usual.subject + usual.body, FACTS) == []


def test_every_fact_that_may_be_named_is_there(booking: Booking) -> None:
    facts = facts_of(booking)

    assert set(facts) == set(FACTS)
    assert facts["wear"] == "Plain colours"
    assert facts["pictures"] == "Tuesday 21 July 2026"


def test_letters_are_due_by_the_clock_of_the_place(booking: Booking) -> None:
    zone = booking.place.zone
    day = booking.local_start.date()

    def nine(days: int) -> datetime:
        moment = datetime.combine(day + timedelta(days=days), datetime.min.time(), zone)
        return moment + timedelta(hours=9)

    assert due_at(booking, LetterKind.CONFIRMED) == NOON
    assert due_at(booking, LetterKind.WEEK_BEFORE) == nine(-7)
    assert due_at(booking, LetterKind.DAY_BEFORE) == nine(-1)
    assert due_at(booking, LetterKind.THANKS) == nine(1)


def test_a_letter_is_due_for_two_days_and_never_after_what_it_tells_of(
    booking: Booking,
) -> None:
    week = due_at(booking, LetterKind.WEEK_BEFORE)
    assert not is_due(booking, LetterKind.WEEK_BEFORE, at=week - timedelta(seconds=1))
    assert is_due(booking, LetterKind.WEEK_BEFORE, at=week)
    assert not is_due(booking, LetterKind.WEEK_BEFORE, at=week + timedelta(days=2))
    assert not is_due(booking, LetterKind.DAY_BEFORE, at=booking.starts_at)


def test_a_session_fixed_late_has_no_letter_from_before_that(booking: Booking) -> None:
    late = due_at(booking, LetterKind.WEEK_BEFORE) + timedelta(hours=1)
    Booking.objects.update(confirmed_at=late)
    booking.refresh_from_db()

    assert not is_due(booking, LetterKind.WEEK_BEFORE, at=late)
    assert [due.wording.kind for due in due_letters(at=late)] == [LetterKind.CONFIRMED]


def test_a_letter_goes_as_it_was_edited_and_once(
    booking: Booking, client: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    client.force_login(booking.job.owner)
    address = f"/sessions/{booking.pk}/letters/confirmed/"
    page = Markup(client.get(address).content.decode())
    assert "is fixed" in page.words
    assert page.forbidden() == []

    for _ in range(2):
        client.post(address, {"subject": "All set", "body": "See you then."})

    message = Message.objects.get(subject="All set")
    assert message.body.strip() == "See you then."
    assert SentLetter.objects.count() == 1
    assert "went out on" in client.get(address).content.decode()


def test_only_what_the_owner_lets_go_goes_by_itself(
    booking: Booking, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON)
    send_due_letters()
    assert not SentLetter.objects.exists()

    keep_wording(
        wording=words(LetterKind.CONFIRMED, by_itself=True),
        by=booking.job.owner,
        at=NOON,
    )
    send_due_letters()
    send_due_letters()

    assert SentLetter.objects.get().kind == LetterKind.CONFIRMED
    sent = Message.objects.get(occasion=f"letter:{booking.pk}:CONFIRMED")
    assert "{{" not in sent.body + sent.subject


def test_today_asks_for_what_waits_to_be_looked_at(booking: Booking) -> None:
    owner = booking.job.owner

    def asked() -> list[str]:
        titles = [one.title for one in today_items(owner, NOON, owner.hats)]
        return [title for title in titles if "Confirmed" in title]

    assert len(asked()) == 1
    send_letter(
        booking_id=booking.pk,
        kind=LetterKind.CONFIRMED,
        words=("a", "b"),
        by=owner,
        at=NOON,
    )
    assert asked() == []


def test_a_letter_that_is_off_or_left_out_is_never_due(
    booking: Booking, client: Browser
) -> None:
    client.force_login(booking.job.owner)
    client.post(f"/sessions/{booking.pk}/letters/confirmed/leave/")
    assert due_letters(at=NOON) == []
    assert SentLetter.objects.get().message is None

    owner = booking.job.owner
    keep_wording(wording=words(LetterKind.THANKS, off=True), by=owner, at=NOON)
    kinds = [row.kind for row in letters_of(booking, at=NOON)]
    assert LetterKind.THANKS not in kinds


def test_a_client_without_an_address_is_told_of(booking: Booking) -> None:
    client = booking.job.client
    client.email = ""
    client.save()

    with pytest.raises(LetterError, match="no e-mail address"):
        send_letter(
            booking_id=booking.pk,
            kind=LetterKind.CONFIRMED,
            words=("a", "b"),
            by=booking.job.owner,
            at=NOON,
        )


def test_words_are_kept_and_a_gap_that_nothing_fills_is_refused(
    booking: Booking, client: Browser
) -> None:
    client.force_login(booking.job.owner)

    refused = client.post(
        "/letters/thanks/", {"subject": "Ta", "body": "Dear {{nome}}"}
    )
    assert refused.status_code == 422
    assert "No fact is called {{nome}}" in str(refused.context["form"].errors["body"])
    client.post("/letters/thanks/", {"subject": "Ta", "body": "Dear {{name}}"})

    assert wordings()[LetterKind.THANKS].body == "Dear {{name}}"
    assert client.get("/letters/nonsense/").status_code == 404
