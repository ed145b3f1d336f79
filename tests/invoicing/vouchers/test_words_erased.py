"""What a voucher says of people is emptied on request, and never rewritten."""

from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction
from django.test import Client as Browser

from invoicing.vouchers.models import Voucher
from invoicing.vouchers.operations import Gift, VoucherError, erase_words, sell_voucher
from studio.history.models import JournalEntry
from tests.make import NOON, make_client, make_person, make_profile
from tests.make_invoicing import TODAY, make_received

pytestmark = pytest.mark.django_db
UNTIL = TODAY + timedelta(days=1)
OVER = UNTIL + timedelta(days=1)


@pytest.fixture
def voucher() -> Voucher:
    make_profile()
    gift = Gift(given_to="Oma Brigid", greeting="With love.", valid_until_on=UNTIL)
    return sell_voucher(
        client_id=make_client().pk,
        money=make_received(15_000),
        gift=gift,
        by=make_person(),
        at=NOON,
    )


def test_its_words_go_once_it_is_over_and_its_sums_stay(voucher: Voucher) -> None:
    by = make_person()

    with pytest.raises(VoucherError, match="can still be spent"):
        erase_words(voucher_id=voucher.pk, by=by, at=NOON, on=UNTIL)
    for _ in range(2):
        erase_words(voucher_id=voucher.pk, by=by, at=NOON, on=OVER)

    voucher.refresh_from_db()
    assert (voucher.given_to, voucher.greeting) == ("", "")
    assert (voucher.amount_minor, voucher.remaining_minor) == (15_000, 15_000)
    entry = JournalEntry.objects.get(verb="words erased")
    assert "Brigid" not in str(entry.data)


def test_the_database_lets_words_be_emptied_but_not_rewritten(voucher: Voucher) -> None:
    same = Voucher.objects.filter(pk=voucher.pk)

    for change in ({"given_to": "Somebody"}, {"greeting": "Hello"}):
        with pytest.raises(DatabaseError), transaction.atomic():
            same.update(**change)
    same.update(greeting="")

    assert same.get().given_to == "Oma Brigid"


def test_only_an_owner_erases_them_after_one_more_question(
    client: Browser, voucher: Voucher, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOON + (OVER - TODAY) * 1)
    path = f"/money/vouchers/{voucher.pk}/erase/"
    client.force_login(make_person(hats="bookkeeper"))
    assert client.post(path).status_code == 403

    client.force_login(make_person())
    page = client.get(voucher.get_absolute_url()).content.decode()
    asked = client.get(path).content.decode()
    after = client.post(path, follow=True).content.decode()

    assert path in page
    assert "erased for good" in asked
    assert "Brigid" not in after
    assert "Its words are erased." in after
