"""Make this app's tables on an empty database, in one step."""

import django.db.models.deletion
from django.conf import settings
from django.core.management import call_command
from django.db import migrations, models

from studio.creating import CreateModels
from studio.files.models import FILE_GUARD
from studio.guards import InstallGuard
from studio.history.models import JOURNAL_GUARD


def make_cache_table(apps, schema_editor):
    call_command(
        "createcachetable", database=schema_editor.connection.alias, verbosity=0
    )


class Migration(migrations.Migration):
    replaces = [
        ("studio", "0001_initial"),
        ("studio", "0002_guards"),
        ("studio", "0003_calendar_links"),
        ("studio", "0004_enquiry_form"),
        ("studio", "0005_release_links"),
        ("studio", "0006_books_settings"),
        ("studio", "0007_travel_speed"),
    ]

    initial = True

    dependencies = []

    operations = [
        CreateModels(
            models=[
                migrations.CreateModel(
                    name="ChainHead",
                    fields=[
                        (
                            "name",
                            models.CharField(
                                max_length=40, primary_key=True, serialize=False
                            ),
                        ),
                        ("sequence", models.BigIntegerField(default=0)),
                        (
                            "hash",
                            models.CharField(
                                default="0000000000000000000000000000000000000000000000000000000000000000",
                                max_length=64,
                            ),
                        ),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Person",
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
                        (
                            "password",
                            models.CharField(max_length=128, verbose_name="password"),
                        ),
                        (
                            "last_login",
                            models.DateTimeField(
                                blank=True, null=True, verbose_name="last login"
                            ),
                        ),
                        (
                            "username",
                            models.CharField(
                                max_length=60, unique=True, verbose_name="sign-in name"
                            ),
                        ),
                        ("name", models.CharField(max_length=120)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("is_owner", models.BooleanField(default=False)),
                        ("is_planner", models.BooleanField(default=False)),
                        ("is_bookkeeper", models.BooleanField(default=False)),
                        ("is_active", models.BooleanField(default=True)),
                        ("joined_at", models.DateTimeField(auto_now_add=True)),
                    ],
                    options={
                        "ordering": ["name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("is_owner", True),
                                    ("is_planner", True),
                                    ("is_bookkeeper", True),
                                    _connector="OR",
                                ),
                                name="person_wears_a_hat",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="PrivateLink",
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
                        (
                            "purpose",
                            models.CharField(
                                choices=[
                                    ("QUOTE", "Quote"),
                                    ("SESSION", "Your session"),
                                    ("CALL_SHEET", "Call sheet"),
                                    ("CALENDAR", "Calendar feed"),
                                    ("RELEASE", "Release of pictures"),
                                ],
                                max_length=12,
                            ),
                        ),
                        ("object_id", models.BigIntegerField()),
                        ("version", models.PositiveIntegerField(default=1)),
                        ("nonce", models.CharField(max_length=64, unique=True)),
                        ("token_hash", models.CharField(max_length=64, unique=True)),
                        ("created_at", models.DateTimeField()),
                        ("expires_at", models.DateTimeField()),
                        ("revoked_at", models.DateTimeField(blank=True, null=True)),
                        ("replaced", models.BooleanField(default=False)),
                        ("first_used_at", models.DateTimeField(blank=True, null=True)),
                        ("last_used_at", models.DateTimeField(blank=True, null=True)),
                        ("uses", models.PositiveIntegerField(default=0)),
                    ],
                    options={
                        "indexes": [
                            models.Index(
                                fields=["purpose", "object_id"],
                                name="studio_priv_purpose_c24fd8_idx",
                            )
                        ],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="SeriesCounter",
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
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("QUOTE", "Quotes"),
                                    ("JOB", "Jobs"),
                                    ("INVOICE", "Invoices"),
                                    ("CREDIT_NOTE", "Credit notes"),
                                ],
                                max_length=12,
                            ),
                        ),
                        ("year", models.PositiveIntegerField()),
                        ("last", models.PositiveIntegerField(default=0)),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("kind", "year"), name="series_once_a_year"
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="StoredFile",
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
                        ("name", models.CharField(max_length=160)),
                        ("content_type", models.CharField(max_length=80)),
                        ("size", models.PositiveIntegerField()),
                        ("sha256", models.CharField(db_index=True, max_length=64)),
                        ("content", models.BinaryField()),
                        ("stored_at", models.DateTimeField()),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="StudioProfile",
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
                        ("trading_name", models.CharField(blank=True, max_length=120)),
                        ("owner_name", models.CharField(blank=True, max_length=120)),
                        ("address", models.TextField(blank=True, max_length=400)),
                        ("phone", models.CharField(blank=True, max_length=40)),
                        ("email", models.EmailField(blank=True, max_length=254)),
                        ("public_address", models.URLField(blank=True)),
                        ("currency", models.CharField(default="GBP", max_length=3)),
                        ("tax_registered", models.BooleanField(default=False)),
                        ("tax_name", models.CharField(default="VAT", max_length=20)),
                        ("tax_number", models.CharField(blank=True, max_length=40)),
                        (
                            "tax_rate_basis_points",
                            models.PositiveIntegerField(default=2000),
                        ),
                        ("list_prices_include_tax", models.BooleanField(default=True)),
                        ("account_name", models.CharField(blank=True, max_length=120)),
                        ("sort_code", models.CharField(blank=True, max_length=20)),
                        ("account_number", models.CharField(blank=True, max_length=40)),
                        (
                            "iban",
                            models.CharField(
                                blank=True, max_length=42, verbose_name="IBAN"
                            ),
                        ),
                        (
                            "bic",
                            models.CharField(
                                blank=True, max_length=14, verbose_name="BIC"
                            ),
                        ),
                        (
                            "time_zone",
                            models.CharField(default="Europe/London", max_length=60),
                        ),
                        ("home_name", models.CharField(blank=True, max_length=120)),
                        ("home_latitude", models.FloatField(blank=True, null=True)),
                        ("home_longitude", models.FloatField(blank=True, null=True)),
                        (
                            "deposit_kind",
                            models.CharField(
                                choices=[
                                    ("PERCENT", "Percent of the total"),
                                    ("AMOUNT", "A fixed sum"),
                                ],
                                default="PERCENT",
                                max_length=8,
                            ),
                        ),
                        ("deposit_percent", models.PositiveIntegerField(default=25)),
                        ("deposit_minor", models.BigIntegerField(default=0)),
                        ("deposit_days", models.PositiveIntegerField(default=7)),
                        ("quote_days", models.PositiveIntegerField(default=14)),
                        ("payment_days", models.PositiveIntegerField(default=14)),
                        ("pictures_days", models.PositiveIntegerField(default=21)),
                        ("reply_days", models.PositiveIntegerField(default=1)),
                        ("acceptance_confirms", models.BooleanField(default=False)),
                        ("terms", models.TextField(blank=True, max_length=6000)),
                        ("moving_words", models.TextField(blank=True, max_length=600)),
                        ("weather_words", models.TextField(blank=True, max_length=600)),
                        (
                            "withdrawal_words",
                            models.TextField(blank=True, max_length=1200),
                        ),
                        ("wear_words", models.TextField(blank=True, max_length=1200)),
                        ("bring_words", models.TextField(blank=True, max_length=1200)),
                        (
                            "tax_basis",
                            models.CharField(
                                choices=[
                                    ("ACCRUAL", "When it is invoiced, by tax point"),
                                    ("RECEIPT", "When the money moves"),
                                ],
                                default="ACCRUAL",
                                max_length=8,
                            ),
                        ),
                        ("period_months", models.PositiveSmallIntegerField(default=3)),
                        (
                            "period_first_month",
                            models.PositiveSmallIntegerField(default=1),
                        ),
                        (
                            "distance_unit",
                            models.CharField(
                                choices=[("mile", "Miles"), ("km", "Kilometres")],
                                default="mile",
                                max_length=4,
                            ),
                        ),
                        (
                            "distance_rate_minor_hundredths",
                            models.PositiveIntegerField(default=0),
                        ),
                        ("travel_kmh", models.PositiveSmallIntegerField(default=50)),
                        ("enquiry_form_open", models.BooleanField(default=False)),
                        ("enquiry_words", models.TextField(blank=True, max_length=600)),
                        ("guide_words", models.TextField(blank=True, max_length=4000)),
                        (
                            "quote_pattern",
                            models.CharField(
                                default="Q-{year}-{place:03d}", max_length=40
                            ),
                        ),
                        (
                            "job_pattern",
                            models.CharField(
                                default="J-{year}-{place:03d}", max_length=40
                            ),
                        ),
                        (
                            "invoice_pattern",
                            models.CharField(
                                default="{year}-{place:04d}", max_length=40
                            ),
                        ),
                        (
                            "credit_note_pattern",
                            models.CharField(
                                default="CN-{year}-{place:03d}", max_length=40
                            ),
                        ),
                        ("is_demo", models.BooleanField(default=False)),
                        ("set_up_at", models.DateTimeField(blank=True, null=True)),
                        ("backed_up_at", models.DateTimeField(blank=True, null=True)),
                        ("backup_dir", models.CharField(blank=True, max_length=300)),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="JournalEntry",
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
                        ("sequence", models.BigIntegerField(unique=True)),
                        ("at", models.DateTimeField(db_index=True)),
                        (
                            "by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        (
                            "actor_kind",
                            models.CharField(
                                choices=[
                                    ("PERSON", "Person"),
                                    ("CLIENT", "Client"),
                                    ("TOOL", "Northsill"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("verb", models.CharField(max_length=60)),
                        ("object_type", models.CharField(max_length=60)),
                        ("object_id", models.BigIntegerField()),
                        ("data", models.JSONField(default=dict)),
                        ("previous_hash", models.CharField(max_length=64)),
                        ("hash", models.CharField(max_length=64)),
                    ],
                    options={
                        "ordering": ["sequence"],
                        "indexes": [
                            models.Index(
                                fields=["object_type", "object_id"],
                                name="studio_jour_object__18eaab_idx",
                            )
                        ],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Message",
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
                        ("occasion", models.CharField(max_length=120, unique=True)),
                        ("address", models.EmailField(max_length=254)),
                        (
                            "recipient_name",
                            models.CharField(blank=True, max_length=160),
                        ),
                        ("subject", models.CharField(max_length=200)),
                        ("body", models.TextField()),
                        (
                            "link",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="messages",
                                to="studio.privatelink",
                            ),
                        ),
                        (
                            "documents_wanted",
                            models.PositiveSmallIntegerField(default=0),
                        ),
                        ("object_type", models.CharField(max_length=60)),
                        ("object_id", models.BigIntegerField()),
                        ("message_id", models.CharField(max_length=160)),
                        ("written_at", models.DateTimeField()),
                        ("not_before", models.DateTimeField()),
                        (
                            "state",
                            models.CharField(
                                choices=[
                                    ("WAITING", "Waiting"),
                                    ("CLAIMED", "Being sent"),
                                    ("SENT", "Sent"),
                                    ("FAILED", "Refused"),
                                    ("UNKNOWN", "May have been sent"),
                                ],
                                default="WAITING",
                                max_length=8,
                            ),
                        ),
                        ("claimed_at", models.DateTimeField(blank=True, null=True)),
                        ("spoken_at", models.DateTimeField(blank=True, null=True)),
                        ("sent_at", models.DateTimeField(blank=True, null=True)),
                        ("attempts", models.PositiveSmallIntegerField(default=0)),
                        ("fault", models.CharField(blank=True, max_length=300)),
                        (
                            "files",
                            models.ManyToManyField(
                                blank=True,
                                related_name="messages",
                                to="studio.storedfile",
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-written_at", "-pk"],
                        "indexes": [
                            models.Index(
                                fields=["state", "not_before"],
                                name="studio_mess_state_1930e5_idx",
                            ),
                            models.Index(
                                fields=["object_type", "object_id"],
                                name="studio_mess_object__ab33d8_idx",
                            ),
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(("state", "SENT"), _negated=True),
                                    ("sent_at__isnull", False),
                                    _connector="OR",
                                ),
                                name="message_sent_has_its_time",
                            )
                        ],
                    },
                ),
            ],
        ),
        InstallGuard(JOURNAL_GUARD),
        InstallGuard(FILE_GUARD),
        migrations.RunPython(make_cache_table, migrations.RunPython.noop),
    ]
