from typing import Any

import pytest
from django.test import Client as Browser

from studio.links.models import LinkPurpose
from studio.links.operations import make_link, token_of
from studio.mail.models import Message
from studio.mail.states import MessageState
from studio.panels import today_items
from tests.make import NOON, make_person, make_profile
from tests.make_mail import make_message
from tests.studio.markup import Markup

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client: Browser) -> Browser:
    make_profile()
    client.force_login(make_person())
    return client


def doubtful(**fields: Any) -> Message:
    message = make_message(**fields)
    Message.objects.filter(pk=message.pk).update(
        state=MessageState.UNKNOWN, spoken_at=NOON, claimed_at=NOON, fault="The line"
    )
    message.refresh_from_db()
    return message


def test_the_list_shows_each_message_with_its_state(owner: Browser) -> None:
    make_message(subject="Your quote")
    doubtful(subject="Your invoice")

    page = Markup(owner.get("/mail/").content.decode())

    assert "Your quote" in page.words
    assert "May have been sent" in page.words
    assert "1 needs a look" in page.words
    assert page.forbidden() == []


def test_the_list_asks_the_database_a_fixed_number_of_times(
    owner: Browser, django_assert_max_num_queries: Any
) -> None:
    for _ in range(60):
        make_message()

    with django_assert_max_num_queries(15):
        page = owner.get("/mail/?page=2").content.decode()

    assert "Page 2 of 2" in page


def test_one_message_shows_its_text_but_not_its_link(owner: Browser) -> None:
    link = make_link(purpose=LinkPurpose.QUOTE, object_id=1, at=NOON)
    message = make_message(body="See <b>{link}</b>", link=link)

    page = owner.get(f"/mail/{message.pk}/").content.decode()

    assert "&lt;b&gt;[private link]&lt;/b&gt;" in page
    assert token_of(link) not in page


def test_the_owner_lets_a_doubtful_message_go_again(owner: Browser) -> None:
    message = doubtful()

    owner.post(f"/mail/{message.pk}/again/")

    message.refresh_from_db()
    assert message.state == MessageState.WAITING


def test_the_owner_notes_that_a_doubtful_message_arrived(owner: Browser) -> None:
    message = doubtful()

    owner.post(f"/mail/{message.pk}/arrived/")
    again = owner.post(f"/mail/{message.pk}/again/", follow=True)

    message.refresh_from_db()
    assert message.state == MessageState.SENT
    assert "cannot become waiting" in again.content.decode()


@pytest.mark.parametrize(
    "query", ["show=nothing", "page=0", "page=99999999999", "page=x"]
)
def test_a_made_up_query_still_gives_the_list(owner: Browser, query: str) -> None:
    assert owner.get(f"/mail/?{query}").status_code == 200


def test_today_tells_the_owner_of_a_letter_in_trouble() -> None:
    doubtful(subject="Your invoice")
    ada = make_person()

    titles = [item.title for item in today_items(ada, NOON, ada.hats)]

    assert "“Your invoice” may have reached Meyer Bakery" in titles
