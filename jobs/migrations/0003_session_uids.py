"""Every session gets a name of its own that calendars elsewhere know it by."""

from uuid import uuid4

from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps


def name_sessions(apps: StateApps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    sessions = apps.get_model("jobs", "Booking").objects
    batch = []
    for session in sessions.filter(uid__isnull=True).only("pk").iterator():
        session.uid = uuid4()
        batch.append(session)
    sessions.bulk_update(batch, ["uid"], batch_size=500)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0002_guards")]

    operations = [
        migrations.AddField(
            model_name="booking",
            name="uid",
            field=models.UUIDField(null=True, editable=False),
        ),
        migrations.RunPython(name_sessions, migrations.RunPython.noop),
    ]
