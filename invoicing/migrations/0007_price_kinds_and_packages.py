"""Kinds of prices, packages, licences, dated rates; a no with its reason."""

import django.db.models.deletion
from django.db import migrations, models

from invoicing.quotes.guards import (
    ACCEPTANCE_GUARD,
    CHOICE_GUARD,
    QUOTE_GUARD,
    QUOTE_LINE_GUARD,
)
from studio.guards import InstallGuard, LiftGuard


class Migration(migrations.Migration):
    dependencies = [
        ("invoicing", "0001_squashed_0006_einvoices"),
    ]

    operations = [
        LiftGuard(QUOTE_LINE_GUARD),
        LiftGuard(QUOTE_GUARD),
        LiftGuard(ACCEPTANCE_GUARD),
        migrations.CreateModel(
            name="PackagePart",
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
                ("position", models.PositiveSmallIntegerField()),
                ("quantity_thousandths", models.BigIntegerField(default=1000)),
            ],
            options={
                "ordering": ["position", "pk"],
            },
        ),
        migrations.CreateModel(
            name="RateChange",
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
                ("from_on", models.DateField()),
                ("was_basis_points", models.PositiveIntegerField()),
                ("becomes_basis_points", models.PositiveIntegerField()),
            ],
            options={
                "ordering": ["from_on", "pk"],
            },
        ),
        migrations.AddField(
            model_name="acceptance",
            name="chosen",
            field=models.JSONField(default=dict),
        ),
        migrations.AddField(
            model_name="priceitem",
            name="kind",
            field=models.CharField(
                choices=[
                    ("PACKAGE", "Package"),
                    ("ITEM", "Item"),
                    ("HOUR", "Hour"),
                    ("PRINT", "Print"),
                    ("TRAVEL", "Travel"),
                    ("LICENCE", "Usage licence"),
                ],
                default="ITEM",
                max_length=8,
            ),
        ),
        migrations.AddField(
            model_name="priceitem",
            name="licence_months",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="priceitem",
            name="licence_where",
            field=models.CharField(blank=True, max_length=160),
        ),
        migrations.AddField(
            model_name="priceitem",
            name="licence_who",
            field=models.CharField(blank=True, max_length=100),
        ),
        migrations.AddField(
            model_name="priceitem",
            name="up_to_distance",
            field=models.PositiveIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="quote",
            name="assistant_cost_minor",
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name="quote",
            name="decline_reason",
            field=models.CharField(
                blank=True,
                choices=[
                    ("PRICE", "The price"),
                    ("DATE", "The date was not free"),
                    ("ELSEWHERE", "They chose somebody else"),
                    ("PUT_OFF", "They put it off"),
                    ("SILENT", "No answer came"),
                    ("UNFIT", "It is not what the studio does"),
                    ("OTHER", "Something else"),
                ],
                max_length=12,
            ),
        ),
        migrations.AddField(
            model_name="quote",
            name="decline_words",
            field=models.TextField(blank=True, max_length=1000),
        ),
        migrations.AddField(
            model_name="quote",
            name="declined_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="quote",
            name="discount_reason",
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name="quote",
            name="other_cost_minor",
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name="quote",
            name="planned_minutes",
            field=models.PositiveIntegerField(
                default=0, verbose_name="own time expected"
            ),
        ),
        migrations.AddField(
            model_name="quote",
            name="reminded_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="quote",
            name="travel_cost_minor",
            field=models.BigIntegerField(default=0),
        ),
        migrations.AddField(
            model_name="quoteline",
            name="licence_months",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="quoteline",
            name="package",
            field=models.CharField(blank=True, max_length=120),
        ),
        migrations.AddConstraint(
            model_name="quoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("optional", False), ("package", ""), _connector="OR"
                ),
                name="quote_line_is_extra_or_in_a_package",
            ),
        ),
        migrations.AddField(
            model_name="packagepart",
            name="item",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="invoicing.priceitem",
            ),
        ),
        migrations.AddField(
            model_name="packagepart",
            name="package",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE,
                related_name="parts",
                to="invoicing.priceitem",
            ),
        ),
        migrations.AddConstraint(
            model_name="ratechange",
            constraint=models.UniqueConstraint(
                fields=("from_on", "was_basis_points"), name="rate_changes_once_a_day"
            ),
        ),
        migrations.AddConstraint(
            model_name="ratechange",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("was_basis_points__lte", 10000),
                    ("becomes_basis_points__lte", 10000),
                ),
                name="rate_change_is_a_share",
            ),
        ),
        migrations.AddConstraint(
            model_name="packagepart",
            constraint=models.CheckConstraint(
                condition=models.Q(("quantity_thousandths__gt", 0)),
                name="package_part_is_some",
            ),
        ),
        InstallGuard(QUOTE_GUARD),
        InstallGuard(QUOTE_LINE_GUARD),
        InstallGuard(ACCEPTANCE_GUARD),
        InstallGuard(CHOICE_GUARD),
    ]
