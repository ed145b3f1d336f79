"""What migrations fill in for rows that were there before."""

from importlib import import_module

import pytest
from django.apps import apps
from django.db import connection

from jobs.clients.models import Client
from tests.make import NOON

pytestmark = pytest.mark.django_db

ROWS = 2_000


def test_clients_of_before_get_the_keys_that_new_ones_have() -> None:
    rows = [
        Client(
            name=f"Zoë Thorn {number}",
            phone=f"01632 96{number % 1000:04d}",
            email=f"Zoe{number}@Thorn.example",
            created_at=NOON,
        )
        for number in range(ROWS)
    ]
    Client.objects.bulk_create(rows, batch_size=500)
    assert set(Client.objects.values_list("name_key", flat=True)) == {""}
    fill = import_module("jobs.migrations.0006_client_keys").set_keys

    fill(apps, connection.schema_editor())

    for client in Client.objects.all():
        before = (client.name_key, client.phone_key, client.mail_key)
        client.set_keys()
        assert before == (client.name_key, client.phone_key, client.mail_key)
        assert all(before)
