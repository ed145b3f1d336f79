"""No two sessions share the name that calendars elsewhere know them by."""

from uuid import uuid4

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("jobs", "0003_session_uids")]

    operations = [
        migrations.AlterField(
            model_name="booking",
            name="uid",
            field=models.UUIDField(default=uuid4, editable=False, unique=True),
        ),
    ]
