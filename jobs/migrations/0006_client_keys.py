"""Clients are found again however they are written, and two may become one."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

from jobs.clients.keys import name_key, phone_key

KEYS = ["name_key", "phone_key", "mail_key"]


def set_keys(apps: StateApps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    clients = apps.get_model("jobs", "Client").objects
    batch = []
    for client in clients.only("name", "phone", "email").iterator():
        client.name_key = name_key(client.name)
        client.phone_key = phone_key(client.phone)
        client.mail_key = client.email.strip().casefold()
        batch.append(client)
    clients.bulk_update(batch, KEYS, batch_size=500)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0005_calendars"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        *(
            migrations.AddField(
                model_name="client",
                name=name,
                field=models.CharField(
                    max_length=length, editable=False, db_index=True, default=""
                ),
                preserve_default=False,
            )
            for name, length in zip(KEYS, (400, 40, 254), strict=True)
        ),
        migrations.AddField(
            model_name="client",
            name="merged_into",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="merged",
                to="jobs.client",
            ),
        ),
        migrations.RunPython(set_keys, migrations.RunPython.noop),
    ]
