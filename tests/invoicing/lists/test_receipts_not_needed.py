"""Purchases that need no receipt, said of several at once."""

import pytest
from django.test import Client as Browser

from invoicing.lists.purchases import stamp_of
from invoicing.purchases.models import Purchase, PurchaseKind
from tests.invoicing.lists.test_lists import buy
from tests.make import make_person, make_profile

pytestmark = pytest.mark.django_db


def test_those_that_stand_as_shown_need_none_and_the_rest_is_refused(
    client: Browser,
) -> None:
    make_profile()
    ada = make_person()
    client.force_login(ada)
    fee, changed = buy(ada, "Bank"), buy(ada, "Print rooms")
    drive = buy(ada, "Own car", kind=PurchaseKind.MILEAGE)
    keys = [f"{one.pk}.{stamp_of(one)}" for one in (fee, changed, drive)]
    chosen = client.post(
        "/money/lists/purchases/chosen/", {"act": "no-receipt", "chosen": keys}
    )
    assert "Print rooms" in client.get(chosen["Location"]).content.decode()
    Purchase.objects.filter(pk=changed.pk).update(gross_minor=1_300)

    path = "/money/purchases/no-receipt/"
    assert client.post(path, {"chosen": keys, "because": ""}).status_code == 422
    sent = {"chosen": keys, "because": "The bank’s own charge"}
    said = client.post(path, sent, follow=True).content.decode()

    assert "1 purchase needs no receipt." in said
    assert "Print rooms, Prints was changed meanwhile" in said
    assert "Own car, Prints lacks no receipt." in said
    assert list(Purchase.objects.without_receipt()) == [changed]

    client.post(f"/money/purchases/{fee.pk}/expect-receipt/")
    assert Purchase.objects.without_receipt().count() == 2
