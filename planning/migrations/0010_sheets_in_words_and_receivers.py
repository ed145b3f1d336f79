"""A version keeps its words; who gets it has a row, and so has each copy."""

import django.db.models.deletion
from django.db import migrations, models

from planning.callsheets.models import KEPT_SHEET_GUARD
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0011_who_is_coming"),
        ("planning", "0009_light_shifts"),
    ]

    operations = [
        migrations.AddField(
            model_name="callsheet",
            name="content",
            field=models.JSONField(default=dict, editable=False),
        ),
        migrations.CreateModel(
            name="SheetReceiver",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("address", models.EmailField(max_length=254)),
                ("name", models.CharField(max_length=200)),
                (
                    "booking",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="sheet_receivers",
                        to="jobs.booking",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="SheetCopy",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("sent_at", models.DateTimeField()),
                ("read_at", models.DateTimeField(blank=True, null=True)),
                (
                    "sheet",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="copies",
                        to="planning.callsheet",
                    ),
                ),
                (
                    "receiver",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="copies",
                        to="planning.sheetreceiver",
                    ),
                ),
            ],
        ),
        migrations.AddConstraint(
            model_name="sheetreceiver",
            constraint=models.UniqueConstraint(
                fields=("booking", "address"), name="sheet_receiver_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="sheetcopy",
            constraint=models.UniqueConstraint(
                fields=("sheet", "receiver"), name="sheet_copy_once"
            ),
        ),
        InstallGuard(KEPT_SHEET_GUARD),
    ]
