"""Pages asked for as a browser asks for them, and forms drawn in two ways."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from django.contrib.auth.decorators import login_not_required
from django.core.handlers.wsgi import WSGIHandler
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.test import Client as Browser
from django.test import RequestFactory, override_settings
from django.urls import include, path

from invoicing.payments.operations import record_payment
from jobs.places.forms import PlaceForm
from tests.bench.pairwise import Work
from tests.make import NOON, make_client, make_item, make_job, make_person, make_place
from tests.make_invoicing import make_invoice, make_order, make_received

TIMES: Final = 5
"""Requests of one sample; one alone is too short to time."""
ROWS: Final = 55
BARE: Final = "/bare/"
LISTS: Final = {
    "jobs, 50 rows": "/jobs/",
    "clients, 50 rows": "/clients/",
    "places, 50 rows": "/kit/places/",
    "papers, 50 rows": "/money/",
    "payments, 50 rows": "/money/payments/",
}
FORMS: Final = {
    "place, blank, 14 fields": "/kit/places/new/",
    "enquiry, blank": "/jobs/new/",
    "kit item, blank": "/kit/new/",
}
FILLED: Final = {
    "name": "North beach",
    "address": "Sea Road\nWrayhaven",
    "coordinates": "54.47, -0.62",
    "meeting_point": "The steps by the café",
    "access": "Through the gate; the code is on the door",
    "access_from": "08:00",
    "access_until": "20:00",
    "parking": "Along the road",
    "rain_plan": "The boathouse",
    "power": "None",
    "contact_name": "Hesper Lund",
    "contact_phone": "01632 960153",
    "notes": "Check the tide",
}
PLAIN: Final = (
    "{% for field in form %}<div><label for='{{ field.id_for_label }}'>"
    "{{ field.label }}</label>{{ field.help_text }}{{ field.errors }}{{ field }}</div>"
    "{% endfor %}"
)
PACK: Final = "{% load crispy_forms_tags %}{% crispy form %}"


@login_not_required
def bare(_request: HttpRequest) -> HttpResponse:
    """Answer with one line."""
    return HttpResponse("Nothing but this.")


urlpatterns = [path("bare/", bare), path("", include("studio.urls"))]


def pages(name: str) -> dict[str, Work]:
    """Return the bare view by its name, and each page."""
    override_settings(ROOT_URLCONF=__name__).enable()
    person = make_person()
    for number in range(ROWS):
        _row(number)
    browser = Browser()
    browser.force_login(person)
    cookie = "; ".join(f"{one.key}={one.value}" for one in browser.cookies.values())
    handler = WSGIHandler()
    visit = partial(_visits, handler, cookie)
    paths = {name: BARE} | LISTS | FORMS
    works: dict[str, Work] = {one: partial(visit, at) for one, at in paths.items()}
    works["bare view, by a stranger"] = partial(_visits, handler, "", BARE)
    return works


def filled_forms(name: str) -> dict[str, Work]:
    """Return a plain loop by its name, and our pack, over one filled form."""
    drawn = {name: PLAIN, "place, filled, by our pack": PACK}
    return {name: _drawing(source) for name, source in drawn.items()}


def _row(number: int) -> None:
    client = make_client(f"Client {number}")
    job = make_job(f"Portraits {number}", client=client)
    make_place(f"Place {number}")
    make_item(f"Item {number}")
    invoice = make_invoice(make_order(job))
    money = make_received(4_000)
    record_payment(money=money, shares={invoice.pk: 4_000}, by=job.owner, at=NOON)


def _visits(handler: WSGIHandler, cookie: str, path: str) -> None:
    for _ in range(TIMES):
        environ = RequestFactory().get(path, HTTP_COOKIE=cookie).environ
        answer = handler(environ, _start)
        b"".join(answer)
        answer.close()


def _start(
    status: str, _headers: object, _fault: object = None, /
) -> Callable[[bytes], object]:
    assert status == "200 OK", status
    return bytes


def _drawing(source: str) -> Callable[[], None]:
    template = engines["django"].from_string(source)

    def draw() -> None:
        for _ in range(TIMES):
            template.render({"form": PlaceForm(FILLED)})

    return draw
