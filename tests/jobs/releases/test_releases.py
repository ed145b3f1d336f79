from datetime import date, timedelta
from io import BytesIO
from typing import Any

import pytest
from django.core.cache import cache
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from PIL import Image
from pypdf import PdfReader
from pytest_django import DjangoAssertNumQueries

from jobs.clients.merging import merge_clients
from jobs.releases.documents import print_release
from jobs.releases.models import AllowedUse, How, PictureUse, Release, Sitter, Use
from jobs.releases.operations import (
    Asked,
    ReleaseError,
    Signature,
    SitterDetails,
    add_sitter,
    make_release,
    note_picture_use,
    send_release,
    sign_release,
    withdraw_use,
)
from jobs.releases.queries import printed_release
from studio.files.models import StoredFile
from studio.history.models import ActorKind, JournalEntry
from studio.links.models import PrivateLink
from studio.links.operations import token_of
from studio.mail.models import Message
from studio.panels import today_items
from studio.people.models import Person
from studio.people.policy import Hat
from tests.make import NOON, make_client, make_person, make_profile

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("noon")]

TODAY = NOON.date()
BOTH = (Use.PORTFOLIO, Use.PRESS)


@pytest.fixture
def ada() -> Person:
    cache.clear()
    make_profile()
    return make_person()


@pytest.fixture
def wren(ada: Person) -> Sitter:
    details = SitterDetails(
        name="Wren Thorn",
        is_child=True,
        guardian_name="Ilse Thorn",
        email="ilse@thorn.example",
    )
    return add_sitter(client=make_client(), details=details, by=ada, at=NOON)


def release_of(sitter: Sitter, by: Person, **asked: Any) -> Release:
    wanted = Asked(**({"uses": BOTH} | asked))
    return make_release(sitter_id=sitter.pk, asked=wanted, by=by, at=NOON)


def signed(sitter: Sitter, by: Person, **asked: Any) -> Release:
    signature = Signature(name="Ilse Thorn", how=How.PAPER, signed_at=NOON)
    release = release_of(sitter, by, **asked)
    return sign_release(release_id=release.pk, signature=signature, by=by, at=NOON)


def use_of(release: Release, use: Use = Use.PRESS) -> AllowedUse:
    return release.uses.get(use=use)


def note(allowed: AllowedUse, by: Person, on: date = TODAY) -> PictureUse:
    return note_picture_use(
        use_id=allowed.pk, where="The Herald, p. 4", used_on=on, by=by, at=NOON
    )


def private_path(release: Release, by: Person) -> str:
    link = send_release(release_id=release.pk, by=by, at=NOON)
    return f"/p/release/{token_of(link)}/"


def test_a_release_says_who_for_what_and_until_when(ada: Person, wren: Sitter) -> None:
    release = release_of(wren, ada, until_on=date(2028, 6, 30), limits="No names.")

    words = release.words
    assert "pictures of Wren Thorn, for whom I decide" in words
    assert "until Friday 30 June 2028" in words
    assert "- Newspapers and magazines" in words
    assert "Limits: No names." in words
    assert "I am the parent or guardian" in words


def test_a_child_without_a_guardian_is_not_kept(ada: Person) -> None:
    details = SitterDetails(name="Wren", is_child=True)

    with pytest.raises(IntegrityError):
        add_sitter(client=make_client(), details=details, by=ada, at=NOON)


def test_nothing_is_allowed_before_it_is_signed(ada: Person, wren: Sitter) -> None:
    allowed = use_of(release_of(wren, ada))

    with pytest.raises(ReleaseError, match="the release is not signed"):
        note(allowed, ada)


def test_a_use_holds_to_its_last_day_and_no_longer(ada: Person, wren: Sitter) -> None:
    last = TODAY + timedelta(days=10)
    allowed = use_of(signed(wren, ada, until_on=last))

    assert note(allowed, ada, on=last).pk
    with pytest.raises(ReleaseError, match="it ended on 1 Jul 2026"):
        note(allowed, ada, on=last + timedelta(days=1))


def test_a_use_taken_back_blocks_new_ones_and_says_where_pictures_are(
    client: Browser, ada: Person, wren: Sitter
) -> None:
    release = signed(wren, ada)
    allowed = use_of(release)
    note(allowed, ada)
    client.force_login(ada)
    page = client.get(f"/releases/uses/{allowed.pk}/withdraw/").content.decode()

    client.post(f"/releases/uses/{allowed.pk}/withdraw/", {"words": "She is shy now"})

    assert "The Herald, p. 4" in page
    with pytest.raises(ReleaseError, match="taken back on 21 Jun 2026"):
        note(allowed, ada)
    assert note(use_of(release, Use.PORTFOLIO), ada).pk  # the other use stands
    titles = [one.title for one in today_items(ada, NOON, [Hat.PLANNER])]
    assert titles.count("Take pictures of Wren Thorn down") == 1
    out = PictureUse.objects.get(allowed=allowed)
    client.post(f"/releases/pictures/{out.pk}/removed/")
    left = [one.title for one in today_items(ada, NOON, [Hat.PLANNER])]
    assert "Take pictures of Wren Thorn down" not in left
    with pytest.raises(ReleaseError, match="already"):
        withdraw_use(use_id=allowed.pk, words="", by=ada, at=NOON)


def test_a_guardian_signs_on_the_private_page(
    client: Browser, ada: Person, wren: Sitter
) -> None:
    release = release_of(wren, ada)
    path = private_path(release, ada)
    assert "Wren Thorn, for whom I decide" in client.get(path).content.decode()
    release.refresh_from_db()
    assert release.signed_at is None  # looking signs nothing

    client.post(
        path,
        {"name": "Ilse Thorn", "agreed": "on", "is_guardian": "on"},
        headers={"user-agent": "A browser"},
        REMOTE_ADDR="198.51.100.7",
    )

    release.refresh_from_db()
    assert (release.signed_by, release.how) == ("Ilse Thorn", How.PAGE)
    assert (release.network_address, release.browser) == ("198.51.100.7", "A browser")
    entry = JournalEntry.objects.get(verb="signed")
    assert entry.actor_kind == ActorKind.CLIENT
    again = client.get(path)
    assert "Thank you" in again.content.decode()
    assert again["Cache-Control"] == "no-store"
    message = Message.objects.get()
    assert (message.address, "{link}" in message.body) == ("ilse@thorn.example", True)


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"agreed": "on", "is_guardian": "on"}, "Fill in"),
        ({"name": "Ilse Thorn", "is_guardian": "on"}, "Tick it, if you allow it."),
        ({"name": "Ilse Thorn", "agreed": "on"}, "Only a parent or guardian can sign"),
    ],
)
def test_a_page_that_is_not_answered_in_full_signs_nothing(
    client: Browser, ada: Person, wren: Sitter, answers: dict[str, str], said: str
) -> None:
    release = release_of(wren, ada)

    page = client.post(private_path(release, ada), answers)

    release.refresh_from_db()
    assert (page.status_code, release.signed_at) == (422, None)
    assert said in page.content.decode()


def test_who_signed_takes_a_use_back_on_the_same_page(
    client: Browser, ada: Person, wren: Sitter
) -> None:
    release, other = release_of(wren, ada), signed(wren, ada)
    path = private_path(release, ada)
    client.post(path, {"name": "Ilse", "agreed": "on", "is_guardian": "on"})

    for wanted in (use_of(release).pk, use_of(other).pk, "x", "9" * 30):
        client.post(f"{path}back/", {"use": wanted})

    assert use_of(release).withdrawn_at == NOON
    assert use_of(other).withdrawn_at is None


def test_a_newer_link_and_a_signed_release_close_the_way(
    client: Browser, ada: Person, wren: Sitter
) -> None:
    release = release_of(wren, ada)
    first, second = private_path(release, ada), private_path(release, ada)

    assert client.get(first).status_code == 404
    assert client.get(second).status_code == 200
    assert PrivateLink.objects.filter(revoked_at__isnull=True).count() == 1
    done = signed(wren, ada)
    with pytest.raises(ReleaseError, match="signed already"):
        send_release(release_id=done.pk, by=ada, at=NOON)
    with pytest.raises(ReleaseError, match="signed already"):
        sign_release(
            release_id=done.pk,
            signature=Signature(name="X", how=How.PAPER, signed_at=NOON),
            by=ada,
            at=NOON,
        )


def picture() -> bytes:
    scan = BytesIO()
    Image.new("RGB", (60, 40), "white").save(scan, "PNG")
    return scan.getvalue()


def test_a_signed_paper_is_kept_with_its_scan(
    client: Browser, ada: Person, wren: Sitter
) -> None:
    client.force_login(ada)
    release = release_of(wren, ada)
    path = f"/releases/{release.pk}/"
    answers = {"name": "Ilse Thorn", "signed_on": "2026-06-19"}

    refused = client.post(
        f"{path}paper/", answers | {"scan": SimpleUploadedFile("a.exe", b"MZ" * 50)}
    )
    ahead = client.post(
        f"{path}paper/",
        answers
        | {"signed_on": "2026-06-22", "scan": SimpleUploadedFile("a.png", picture())},
    )
    client.post(
        f"{path}paper/", answers | {"scan": SimpleUploadedFile("a.png", picture())}
    )

    assert "The file could not be read." in refused.content.decode()
    assert "Give the day on which it was signed." in ahead.content.decode()
    release.refresh_from_db()
    assert (release.how, release.signed_by) == (How.PAPER, "Ilse Thorn")
    assert release.signed_at is not None
    assert release.signed_at.date() == date(2026, 6, 19)
    assert StoredFile.objects.get().content_type == "image/jpeg"
    given = client.get(f"{path}scan/")
    assert given["Content-Disposition"].startswith("attachment")
    assert given["X-Content-Type-Options"] == "nosniff"


def test_the_printed_release_says_what_is_signed_and_that_law_differs(
    ada: Person, wren: Sitter
) -> None:
    release = release_of(wren, ada, limits='<img src="/etc/passwd"/> & Söhne')

    content = print_release(printed_release(release))

    text = " ".join(PdfReader(BytesIO(content)).pages[0].extract_text().split())
    assert "Release of pictures" in text
    assert "Signature of Ilse Thorn" in text
    assert '<img src="/etc/passwd"/> & Söhne' in text
    assert "no legal advice" in text
    assert content == print_release(printed_release(release))


def test_the_pages_take_a_sitter_from_the_book_to_a_use(
    client: Browser, ada: Person
) -> None:
    client.force_login(ada)
    owner = make_client("Thorn family")
    new = f"/clients/{owner.pk}/sitters/new/"
    refused = client.post(new, {"name": "Wren", "is_child": "on"}).content.decode()
    assert "Say who decides for the child." in refused

    client.post(new, {"name": "Piers Thorn", "email": "piers@x.example"})
    sitter = Sitter.objects.get()
    none = client.post(f"/sitters/{sitter.pk}/release/", {}).content.decode()
    past = client.post(
        f"/sitters/{sitter.pk}/release/", {"uses": ["PRESS"], "until_on": "2026-01-01"}
    )
    client.post(f"/sitters/{sitter.pk}/release/", {"uses": ["PRESS"]})

    assert "Choose “What pictures may be used for”." in none
    assert "still to come" in past.content.decode()
    release = Release.objects.get()
    assert "Not signed yet" in client.get(release.get_absolute_url()).content.decode()
    client.post(f"/releases/{release.pk}/send/")
    assert Message.objects.count() == 1
    pictures = f"/releases/uses/{use_of(release).pk}/pictures/"
    page = client.post(pictures, {"where": "The Herald", "used_on": "2026-06-20"})
    assert "the release is not signed" in page.content.decode()
    client.post(f"/sitters/{sitter.pk}/edit/", {"name": "Piers Hale"})
    sitter.refresh_from_db()
    assert (sitter.name, "Piers Thorn" in release.words) == ("Piers Hale", False)
    assert "Piers Hale" in client.get(owner.get_absolute_url()).content.decode()


def test_a_bookkeeper_sees_no_sitters(client: Browser, wren: Sitter) -> None:
    client.force_login(make_person("Edda Low", hats="bookkeeper"))

    assert client.get(wren.get_absolute_url()).status_code == 403
    page = client.get(wren.client.get_absolute_url())
    assert page.status_code == 200
    assert "Wren" not in page.content.decode()


def test_many_sitters_take_as_many_queries_as_few(
    client: Browser,
    ada: Person,
    wren: Sitter,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    client.force_login(ada)
    path = wren.client.get_absolute_url()
    signed(wren, ada)
    client.get(path)
    with CaptureQueriesContext(connection) as few:
        client.get(path)
    for number in range(8):
        details = SitterDetails(name=f"Sitter {number}")
        made = add_sitter(client=wren.client, details=details, by=ada, at=NOON)
        signed(made, ada)

    with django_assert_num_queries(len(few)):
        client.get(path)


def test_sitters_change_hands_when_their_clients_are_merged(
    ada: Person, wren: Sitter
) -> None:
    kept = make_client("Thorn family")

    merge_clients(kept_id=kept.pk, gone_id=wren.client_id, by=ada, at=NOON)

    wren.refresh_from_db()
    assert wren.client == kept
