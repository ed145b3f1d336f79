"""When clients are reminded of a quote, and what an hour is worth."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("studio", "0008_sent_lists"),
    ]

    operations = [
        migrations.AddField(
            model_name="studioprofile",
            name="hour_worth_minor",
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name="studioprofile",
            name="quote_reminder_by_itself",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="studioprofile",
            name="quote_reminder_days",
            field=models.PositiveSmallIntegerField(default=3),
        ),
    ]
