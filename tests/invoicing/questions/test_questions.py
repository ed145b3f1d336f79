"""Questions about papers, on their pages and on Today."""

import pytest
from django.test import Client as Browser

from invoicing.questions.models import PaperQuestion
from studio.panels import today_items
from studio.people.models import Person
from tests.invoicing.lists.test_lists import buy
from tests.make import NOON, make_person, make_profile
from tests.make_invoicing import make_invoice

pytestmark = pytest.mark.django_db
ASKED = "Which shoot was this for?"


@pytest.fixture
def ada() -> Person:
    make_profile()
    return make_person()


def asked_of(ada: Person) -> list[str]:
    return [
        one.title for one in today_items(ada, NOON, ada.hats) if one.verb == "Answer"
    ]


@pytest.mark.parametrize("kind", ["invoices", "purchases"])
def test_a_question_waits_on_the_owners_today_until_it_is_answered(
    client: Browser, ada: Person, kind: str
) -> None:
    paper = make_invoice(by=ada) if kind == "invoices" else buy(ada)
    edda = make_person("Edda Lorne", hats="bookkeeper")
    client.force_login(edda)
    path = f"/money/{kind}/{paper.pk}/ask/"
    assert client.post(path, {"question": ""}).status_code == 422
    for _ in range(2):
        client.post(path, {"question": ASKED})

    assert asked_of(ada) == [ASKED]
    assert asked_of(edda) == []
    question = PaperQuestion.objects.get()

    client.force_login(ada)
    answer = f"/money/questions/{question.pk}/"
    client.post(answer, {"answer": "The quay, in June"})
    late = client.post(answer, {"answer": "Something else"})

    assert "It was answered before: The quay, in June" in late.content.decode()
    assert asked_of(ada) == []
    page = client.get(f"/money/{kind}/{paper.pk}/").content.decode()
    assert "The quay, in June" in page
