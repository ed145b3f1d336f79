from datetime import date

import pytest
from django.test import Client as Browser

from invoicing.lists.columns import Look
from invoicing.lists.papers import rows
from invoicing.payments.operations import record_payment
from jobs.clients.keys import name_key, phone_key
from jobs.clients.merging import (
    MergeError,
    merge_clients,
    preview_merge,
    undo_merge,
)
from jobs.clients.models import Client, ClientMerge
from jobs.clients.operations import ClientDetails, change_client
from jobs.clients.queries import doubles_of, likely_clients
from jobs.jobs.operations import Enquiry, open_job
from studio.history.models import JournalEntry
from studio.people.models import Person
from studio.profile.models import StudioProfile
from tests.make import NOON, make_client, make_job, make_person, make_profile
from tests.make_invoicing import make_invoice, make_order, make_received

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Zoë Thorn", "zoe thorn"),
        ("Zoë Thorn", "Zoe\u0308 Thorn"),  # the same letter, written as two signs
        ("Thorn, Ilse", "Ilse Thorn"),
        ("Mrs. Ilse Thorn-Hale", "ilse hale thorn"),
        ("O’Dowd", "O'DOWD"),
        ("Straße & Söhne", "strasse and sohne"),
        ("Łukasz Ørsted", "lukasz orsted"),
        ("Kestle & Dray Ltd", "Kestle and Dray Limited"),
        ("ΜΑΡΊΑ", "μαρία"),
    ],
)
def test_a_name_is_the_same_however_it_is_written(one: str, other: str) -> None:
    assert name_key(one) == name_key(other) != ""


def test_other_names_stay_apart() -> None:
    keys = {
        name_key(name) for name in ("Ilse Thorn", "Ilse Thorne", "Else Thorn", "山田")
    }

    assert len(keys) == 4
    assert name_key("Dr") == "dr"
    assert name_key("!!") == ""


def test_a_number_is_the_same_however_it_is_written() -> None:
    # 01632 960000 to 960999 is set aside for drama by Ofcom.
    written = ("01632 960077", "+44 1632 960077", "0044 1632 960077", "(01632) 960-077")

    assert {phone_key(one) for one in written} == {"+441632960077"}
    assert phone_key("none yet") == ""
    assert phone_key("") == ""


def test_the_keys_follow_every_change(ada: Person) -> None:
    client = make_client("Ilse Thorn", email="Ilse@Thorn.example")

    change_client(
        client_id=client.pk, details=ClientDetails(name="Zoë Hale"), by=ada, at=NOON
    )

    client.refresh_from_db()
    assert (client.name_key, client.phone_key, client.mail_key) == ("hale zoe", "", "")


def test_doubles_are_found_by_name_number_and_mail(ada: Person) -> None:
    plain = {"phone": "", "email": ""}
    ilse = make_client("Ilse Thorn", phone="01632 960077", email="ilse@thorn.example")
    same_name = make_client("THORN, Ilse", **plain)
    same_phone = make_client("I. T.", phone="+441632960077", email="")
    same_mail = make_client("Ilse", phone="", email="ILSE@thorn.example")
    make_client("Else Thorn", phone="01632 960078", email="else@thorn.example")

    found = {one.pk for one in doubles_of(ilse)}

    assert found == {same_name.pk, same_phone.pk, same_mail.pk}
    typed = likely_clients(name="thorn ilse", phone="", email="")
    assert {same_name.pk, ilse.pk} <= {one.pk for one in typed}


def test_a_merge_fills_gaps_and_takes_the_jobs_over(ada: Person) -> None:
    kept = make_client("Ilse Thorn", email="", notes="Shy of flash.")
    gone = make_client(
        "I. Thorn", phone="01632 960099", email="ilse@thorn.example", notes="A dog."
    )
    job = make_job(client=gone, by=ada)
    shown = preview_merge(kept, gone)

    merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=ada, at=NOON)

    kept.refresh_from_db()
    gone.refresh_from_db()
    job.refresh_from_db()
    assert (kept.name, kept.email) == ("Ilse Thorn", "ilse@thorn.example")
    assert kept.phone == "01632 960020"
    assert kept.notes == "Shy of flash.\nA dog."
    assert (job.client, gone.merged_into) == (kept, kept)
    after = {fact.label: fact.after for fact in shown.facts}
    assert after["Notes"] == kept.notes
    assert after["E-mail"] == kept.email
    assert [fact.label for fact in shown.facts if fact.is_dropped] == ["Name", "Phone"]
    assert ("job", 1) in shown.moved


def test_a_merge_undone_leaves_both_as_they_were(ada: Person) -> None:
    kept, gone = make_client("Ilse Thorn", email=""), make_client("I. Thorn")
    job = make_job(client=gone, by=ada)
    before = list(Client.objects.order_by("pk").values())
    merge = merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=ada, at=NOON)
    newer = open_job(client=kept, enquiry=Enquiry(title="Newer"), by=ada, at=NOON)

    undo_merge(merge_id=merge.pk, by=ada, at=NOON)

    job.refresh_from_db()
    newer.refresh_from_db()
    assert list(Client.objects.order_by("pk").values()) == before
    assert (job.client, newer.client) == (gone, kept)
    verbs = JournalEntry.objects.filter(object_type="jobs.client")
    assert list(verbs.values_list("verb", flat=True)) == [
        "merged away",
        "merged",
        "parted",
        "parted",
    ]


def test_once_something_else_changed_a_merge_stays(ada: Person) -> None:
    kept, gone = make_client("Ilse Thorn"), make_client("I. Thorn")
    merge = merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=ada, at=NOON)
    change_client(
        client_id=kept.pk, details=ClientDetails(name="Ilse Hale"), by=ada, at=NOON
    )

    with pytest.raises(MergeError, match="changed since"):
        undo_merge(merge_id=merge.pk, by=ada, at=NOON)

    kept.refresh_from_db()
    assert kept.name == "Ilse Hale"


def test_a_merge_is_undone_once(ada: Person) -> None:
    kept, gone = make_client("Ilse Thorn"), make_client("I. Thorn")
    merge = merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=ada, at=NOON)
    undo_merge(merge_id=merge.pk, by=ada, at=NOON)

    with pytest.raises(MergeError, match="undone already"):
        undo_merge(merge_id=merge.pk, by=ada, at=NOON)


def test_merges_on_merges_are_undone_in_order(ada: Person) -> None:
    one, two, three = (make_client(name) for name in ("One", "Two", "Three"))
    first = merge_clients(kept_id=two.pk, gone_id=one.pk, by=ada, at=NOON)
    second = merge_clients(kept_id=three.pk, gone_id=two.pk, by=ada, at=NOON)
    one.refresh_from_db()
    assert one.merged_into == three
    with pytest.raises(MergeError):
        undo_merge(merge_id=first.pk, by=ada, at=NOON)

    undo_merge(merge_id=second.pk, by=ada, at=NOON)

    one.refresh_from_db()
    assert one.merged_into == two


@pytest.mark.parametrize("case", ["itself", "gone already", "nobody"])
def test_what_is_no_pair_is_refused(ada: Person, case: str) -> None:
    kept, gone = make_client("Ilse Thorn"), make_client("I. Thorn")
    other = {"itself": kept.pk, "gone already": gone.pk, "nobody": 999_983}[case]
    if case == "gone already":
        merge_clients(kept_id=make_client().pk, gone_id=gone.pk, by=ada, at=NOON)

    with pytest.raises(MergeError):
        merge_clients(kept_id=kept.pk, gone_id=other, by=ada, at=NOON)


def test_invoices_stay_in_their_name_and_are_found_and_paid_under_the_kept(
    ada: Person,
) -> None:
    kept, gone = make_client("Ilse Thorn"), make_client("I. Thorn")
    old = make_invoice(make_order(make_job(client=gone, by=ada)))
    new = make_invoice(make_order(make_job(client=kept, by=ada)))

    merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=ada, at=NOON)

    old.refresh_from_db()
    assert old.client == gone
    look = Look(StudioProfile.load(), date(2026, 6, 21))
    papers = rows({"show": "all", "client": kept.pk}, look)
    assert {old.number, new.number} <= {paper.number for paper in papers}
    shares = {one.pk: one.gross_minor for one in (old, new)}
    money = make_received(sum(shares.values()))
    record_payment(money=money, shares=shares, by=ada, at=NOON)


def test_the_pages_compare_merge_and_part(client: Browser, ada: Person) -> None:
    client.force_login(ada)
    kept = make_client("Ilse Thorn", email="ilse@thorn.example")
    gone = make_client("Thorn, Ilse", email="", phone="", notes="<b>Shy</b>")
    path = f"/clients/{kept.pk}/merge/{gone.pk}/"
    assert path in client.get(f"/clients/{kept.pk}/").content.decode()

    page = client.get(path).content.decode()
    client.post(path)

    assert "&lt;b&gt;Shy" in page
    assert (
        client.get(f"/clients/{gone.pk}/").headers["Location"].endswith(f"/{kept.pk}/")
    )
    undo = f"/clients/merges/{ClientMerge.objects.get().pk}/undo/"
    assert undo in client.get(f"/clients/{kept.pk}/").content.decode()
    assert "Thorn, Ilse" not in client.get("/clients/").content.decode()
    client.post(undo)
    assert "Thorn, Ilse" in client.get("/clients/").content.decode()
    assert client.get(f"/clients/{kept.pk}/merge/{kept.pk}/").status_code == 404


def test_a_bookkeeper_merges_nobody(client: Browser) -> None:
    client.force_login(make_person(hats="bookkeeper"))
    kept, gone = make_client("Ilse Thorn"), make_client("I. Thorn")

    assert client.post(f"/clients/{kept.pk}/merge/{gone.pk}/").status_code == 403
    assert not ClientMerge.objects.exists()
