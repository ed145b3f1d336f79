"""Make this app's tables on an empty database, in one step."""

import django.db.models.deletion
import django.db.models.expressions
from django.conf import settings
from django.db import migrations, models

from invoicing.bank.models import LINE_GUARD
from invoicing.invoices.models import DOCUMENT_GUARD, INVOICE_GUARD, TAX_ROW_GUARD
from invoicing.payments.models import ALLOCATION_GUARD, PAYMENT_GUARD
from invoicing.periods.models import CLOSED_GUARD
from invoicing.quotes.guards import ACCEPTANCE_GUARD, QUOTE_GUARD, QUOTE_LINE_GUARD
from studio.creating import CreateModels
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    replaces = [
        ("invoicing", "0001_initial"),
        ("invoicing", "0002_guards"),
        ("invoicing", "0003_books"),
        ("invoicing", "0004_bank"),
        ("invoicing", "0005_reminders"),
        ("invoicing", "0006_einvoices"),
    ]

    initial = True

    dependencies = [
        ("jobs", "0001_squashed_0015_kit_worth_and_returns"),
        ("studio", "0001_squashed_0007_travel_speed"),
    ]

    operations = [
        CreateModels(
            models=[
                migrations.CreateModel(
                    name="AccountCode",
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
                            "account",
                            models.CharField(
                                choices=[
                                    ("BANK", "Bank"),
                                    ("CARD", "Card payments on their way"),
                                    ("CASH", "Cash"),
                                    ("RECEIVABLE", "Owed by clients"),
                                    ("ON_ACCOUNT", "Clients’ money without an invoice"),
                                    ("PAYABLE", "Owed to suppliers"),
                                    ("OUTPUT_TAX", "Tax on sales"),
                                    ("INPUT_TAX", "Tax on purchases"),
                                    ("DEPOSITS", "Deposits for work to come"),
                                    ("OWNER", "Owner’s own money"),
                                    ("SALES", "Sales"),
                                    ("MATERIALS", "Prints, albums, materials"),
                                    ("ASSISTANT", "Assistants and other help"),
                                    ("TRAVEL", "Travel"),
                                    ("MILEAGE", "Own car, by distance"),
                                    ("EQUIPMENT", "Equipment and repairs"),
                                    ("PREMISES", "Rooms, rent, energy"),
                                    ("INSURANCE", "Insurance"),
                                    ("SOFTWARE", "Software and subscriptions"),
                                    ("ADVICE", "Bookkeeping and advice"),
                                    ("ADVERTISING", "Advertising"),
                                    ("BANK_FEES", "Bank and card charges"),
                                    ("OTHER", "Other costs"),
                                ],
                                max_length=12,
                                unique=True,
                            ),
                        ),
                        ("code", models.CharField(max_length=12)),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="BankStatement",
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
                            "file",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        ("read_at", models.DateTimeField()),
                        (
                            "read_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="ClosedPeriod",
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
                        ("starts_on", models.DateField(unique=True)),
                        ("ends_on", models.DateField(unique=True)),
                        ("figures", models.JSONField()),
                        ("figures_hash", models.CharField(max_length=64)),
                        ("closed_at", models.DateTimeField()),
                        (
                            "closed_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-ends_on"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("ends_on__gte", models.F("starts_on"))
                                ),
                                name="period_ends_after_it_starts",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="InvoiceDraft",
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
                            "job",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="invoice_drafts",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "purpose",
                            models.CharField(
                                choices=[
                                    ("DEPOSIT", "Deposit"),
                                    ("BALANCE", "Balance"),
                                    ("WHOLE", "Whole sum"),
                                    ("CREDIT", "Credit"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("content", models.JSONField()),
                        ("due_days", models.PositiveIntegerField(default=14)),
                        ("note", models.TextField(blank=True, max_length=2000)),
                        ("written_at", models.DateTimeField()),
                        ("dropped_at", models.DateTimeField(blank=True, null=True)),
                        ("version", models.PositiveIntegerField(default=1)),
                    ],
                    options={
                        "ordering": ["written_at", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                condition=models.Q(
                                    ("dropped_at__isnull", True), ("purpose", "DEPOSIT")
                                ),
                                fields=("job", "purpose"),
                                name="draft_one_deposit_a_job",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="LateBand",
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
                        ("least_minor", models.BigIntegerField(unique=True)),
                        ("sum_minor", models.BigIntegerField()),
                    ],
                    options={
                        "ordering": ["least_minor"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("least_minor__gte", 0), ("sum_minor__gt", 0)
                                ),
                                name="late_band_is_a_sum",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="LateRate",
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
                        ("from_on", models.DateField(unique=True)),
                        ("basis_points", models.PositiveIntegerField()),
                        ("is_fixed", models.BooleanField(default=True)),
                    ],
                    options={
                        "ordering": ["-from_on"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Payment",
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
                            "client",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="payments",
                                to="jobs.client",
                            ),
                        ),
                        ("received_on", models.DateField()),
                        ("amount_minor", models.BigIntegerField()),
                        ("currency", models.CharField(max_length=3)),
                        (
                            "method",
                            models.CharField(
                                choices=[
                                    ("TRANSFER", "Bank transfer"),
                                    ("CARD", "Card"),
                                    ("CASH", "Cash"),
                                    ("CHEQUE", "Cheque"),
                                ],
                                default="TRANSFER",
                                max_length=8,
                            ),
                        ),
                        ("reference", models.CharField(blank=True, max_length=140)),
                        ("recorded_at", models.DateTimeField()),
                        (
                            "recorded_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("form_key", models.CharField(max_length=64, unique=True)),
                    ],
                    options={
                        "ordering": ["-received_on", "-pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(("amount_minor", 0), _negated=True),
                                name="payment_moves_money",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="PriceItem",
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
                        ("name", models.CharField(max_length=200)),
                        ("detail", models.CharField(blank=True, max_length=400)),
                        ("unit", models.CharField(blank=True, max_length=40)),
                        ("unit_price_minor", models.BigIntegerField()),
                        (
                            "cost_minor",
                            models.BigIntegerField(
                                default=0, verbose_name="own cost of one"
                            ),
                        ),
                        (
                            "tax_rate_basis_points",
                            models.PositiveIntegerField(
                                blank=True,
                                help_text="The studio's usual rate where empty.",
                                null=True,
                            ),
                        ),
                        (
                            "is_extra",
                            models.BooleanField(
                                default=False, verbose_name="offered as an extra"
                            ),
                        ),
                        ("retired", models.BooleanField(default=False)),
                    ],
                    options={
                        "ordering": ["is_extra", "name", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("unit_price_minor__gte", 0), ("cost_minor__gte", 0)
                                ),
                                name="price_is_not_negative",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("tax_rate_basis_points__isnull", True),
                                    ("tax_rate_basis_points__lte", 10000),
                                    _connector="OR",
                                ),
                                name="price_tax_is_a_share",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Purchase",
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
                                    ("MATERIALS", "Prints, albums, materials"),
                                    ("ASSISTANT", "Assistants and other help"),
                                    ("TRAVEL", "Travel: train, taxi, parking"),
                                    ("MILEAGE", "Own car, by distance"),
                                    ("EQUIPMENT", "Equipment and repairs"),
                                    ("PREMISES", "Rooms, rent, energy"),
                                    ("INSURANCE", "Insurance"),
                                    ("SOFTWARE", "Software and subscriptions"),
                                    ("ADVICE", "Bookkeeping and advice"),
                                    ("ADVERTISING", "Advertising"),
                                    ("BANK_FEES", "Bank and card charges"),
                                    ("OTHER", "Other costs"),
                                ],
                                max_length=12,
                            ),
                        ),
                        ("supplier", models.CharField(max_length=200)),
                        ("what", models.CharField(max_length=200)),
                        ("bought_on", models.DateField()),
                        ("paid_on", models.DateField(blank=True, null=True)),
                        (
                            "paid_from",
                            models.CharField(
                                choices=[
                                    ("BANK", "Business bank account"),
                                    ("CARD", "Card takings"),
                                    ("CASH", "Business cash"),
                                    ("OWN", "Own pocket"),
                                ],
                                default="BANK",
                                max_length=4,
                            ),
                        ),
                        ("currency", models.CharField(max_length=3)),
                        ("gross_minor", models.BigIntegerField()),
                        ("tax_minor", models.BigIntegerField(default=0)),
                        (
                            "tax_rate_basis_points",
                            models.PositiveIntegerField(default=0),
                        ),
                        (
                            "private_percent",
                            models.PositiveSmallIntegerField(default=0),
                        ),
                        ("distance_tenths", models.PositiveIntegerField(default=0)),
                        (
                            "distance_rate_minor_hundredths",
                            models.PositiveIntegerField(default=0),
                        ),
                        (
                            "job",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="purchases",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "receipt",
                            models.OneToOneField(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="purchase",
                                to="studio.storedfile",
                            ),
                        ),
                        ("recorded_at", models.DateTimeField()),
                        (
                            "recorded_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("dropped_at", models.DateTimeField(blank=True, null=True)),
                        (
                            "dropped_because",
                            models.CharField(blank=True, max_length=200),
                        ),
                    ],
                    options={
                        "ordering": ["-bought_on", "-pk"],
                        "indexes": [
                            models.Index(
                                fields=["bought_on"],
                                name="invoicing_p_bought__29f01e_idx",
                            )
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(("gross_minor__gt", 0)),
                                name="purchase_costs_something",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("tax_minor__gte", 0),
                                    ("tax_minor__lt", models.F("gross_minor")),
                                ),
                                name="purchase_tax_is_part_of_it",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("private_percent__lte", 100)),
                                name="purchase_private_share_is_a_share",
                            ),
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="Quote",
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
                            "job",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="quotes",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "booking",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="quotes",
                                to="jobs.booking",
                            ),
                        ),
                        ("number", models.CharField(max_length=40)),
                        ("version", models.PositiveIntegerField(default=1)),
                        (
                            "state",
                            models.CharField(
                                choices=[
                                    ("DRAFT", "Draft"),
                                    ("SENT", "Sent"),
                                    ("ACCEPTED", "Accepted"),
                                    ("REPLACED", "Replaced"),
                                    ("LAPSED", "Lapsed"),
                                    ("DECLINED", "Declined"),
                                ],
                                default="DRAFT",
                                max_length=10,
                            ),
                        ),
                        ("edit_version", models.PositiveIntegerField(default=1)),
                        (
                            "drafted_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("drafted_at", models.DateTimeField()),
                        ("currency", models.CharField(max_length=3)),
                        (
                            "price_basis",
                            models.CharField(
                                choices=[
                                    ("gross", "Tax in the price"),
                                    ("net", "Tax on top"),
                                ],
                                max_length=5,
                            ),
                        ),
                        ("valid_until_on", models.DateField()),
                        ("pictures_by_on", models.DateField(blank=True, null=True)),
                        ("opening_note", models.TextField(blank=True, max_length=2000)),
                        ("included", models.TextField(blank=True, max_length=2000)),
                        (
                            "discount_percent_hundredths",
                            models.PositiveIntegerField(default=0),
                        ),
                        ("discount_minor", models.BigIntegerField(default=0)),
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
                        ("payment_days", models.PositiveIntegerField(default=14)),
                        ("sent_at", models.DateTimeField(blank=True, null=True)),
                        ("snapshot", models.JSONField(blank=True, null=True)),
                        ("snapshot_hash", models.CharField(blank=True, max_length=64)),
                        (
                            "paper",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-number", "-version"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("number", "version"), name="quote_version_once"
                            ),
                            models.UniqueConstraint(
                                condition=models.Q(("state__in", ["SENT", "ACCEPTED"])),
                                fields=("number",),
                                name="quote_one_version_is_out",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("state__in", ["DRAFT", "REPLACED"]),
                                    models.Q(
                                        ("sent_at__isnull", False),
                                        ("snapshot__isnull", False),
                                    ),
                                    _connector="OR",
                                ),
                                name="quote_sent_is_frozen",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    models.Q(
                                        ("discount_minor", 0),
                                        ("discount_percent_hundredths", 0),
                                        _connector="OR",
                                    ),
                                    ("discount_minor__gte", 0),
                                    ("discount_percent_hundredths__lte", 10000),
                                ),
                                name="quote_discount_is_one_or_the_other",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Acceptance",
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
                            "quote",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="acceptance",
                                to="invoicing.quote",
                            ),
                        ),
                        ("name", models.CharField(max_length=200)),
                        (
                            "how",
                            models.CharField(
                                choices=[
                                    ("PAGE", "On the private page"),
                                    ("PHONE", "By phone"),
                                    ("EMAIL", "By e-mail"),
                                    ("PAPER", "On paper"),
                                ],
                                max_length=5,
                            ),
                        ),
                        ("accepted_at", models.DateTimeField()),
                        ("recorded_at", models.DateTimeField()),
                        (
                            "recorded_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("quote_version", models.PositiveIntegerField()),
                        ("content", models.JSONField()),
                        ("total_minor", models.BigIntegerField()),
                        ("deposit_minor", models.BigIntegerField()),
                        ("deposit_due_on", models.DateField()),
                        ("may_show_pictures", models.BooleanField(default=False)),
                        ("snapshot_hash", models.CharField(max_length=64)),
                        ("accepted_hash", models.CharField(max_length=64)),
                        (
                            "network_address",
                            models.CharField(blank=True, max_length=60),
                        ),
                        (
                            "scan",
                            models.ForeignKey(
                                blank=True,
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="BankLine",
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
                            "statement",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="lines",
                                to="invoicing.bankstatement",
                            ),
                        ),
                        ("key", models.CharField(max_length=64, unique=True)),
                        ("booked_on", models.DateField()),
                        ("amount_minor", models.BigIntegerField()),
                        ("currency", models.CharField(max_length=3)),
                        ("party", models.CharField(blank=True, max_length=140)),
                        ("text", models.CharField(blank=True, max_length=280)),
                        (
                            "payment",
                            models.OneToOneField(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="bank_line",
                                to="invoicing.payment",
                            ),
                        ),
                        (
                            "purchase",
                            models.OneToOneField(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="bank_line",
                                to="invoicing.purchase",
                            ),
                        ),
                        ("left_because", models.CharField(blank=True, max_length=200)),
                        ("question", models.CharField(blank=True, max_length=300)),
                        (
                            "asked_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                        ("answer", models.CharField(blank=True, max_length=300)),
                    ],
                    options={
                        "ordering": ["-booked_on", "-pk"],
                        "indexes": [
                            models.Index(
                                fields=["booked_on"],
                                name="invoicing_b_booked__c58969_idx",
                            )
                        ],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(("amount_minor", 0), _negated=True),
                                name="bank_line_moves_money",
                            )
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="ClientQuestion",
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
                            "quote",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="questions",
                                to="invoicing.quote",
                            ),
                        ),
                        ("words", models.TextField(max_length=2000)),
                        ("asked_at", models.DateTimeField()),
                        ("answered_at", models.DateTimeField(blank=True, null=True)),
                    ],
                    options={
                        "ordering": ["asked_at"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Invoice",
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
                            "series",
                            models.CharField(
                                choices=[
                                    ("INVOICE", "Invoice"),
                                    ("CREDIT_NOTE", "Credit note"),
                                ],
                                max_length=12,
                            ),
                        ),
                        (
                            "purpose",
                            models.CharField(
                                choices=[
                                    ("DEPOSIT", "Deposit"),
                                    ("BALANCE", "Balance"),
                                    ("WHOLE", "Whole sum"),
                                    ("CREDIT", "Credit"),
                                ],
                                max_length=8,
                            ),
                        ),
                        ("number", models.CharField(max_length=40)),
                        ("year", models.PositiveIntegerField()),
                        ("place", models.PositiveIntegerField()),
                        (
                            "draft",
                            models.OneToOneField(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="invoice",
                                to="invoicing.invoicedraft",
                            ),
                        ),
                        (
                            "job",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="invoices",
                                to="jobs.job",
                            ),
                        ),
                        (
                            "client",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="invoices",
                                to="jobs.client",
                            ),
                        ),
                        (
                            "corrects",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="credit_notes",
                                to="invoicing.invoice",
                            ),
                        ),
                        ("issued_on", models.DateField()),
                        ("due_on", models.DateField()),
                        ("tax_point_on", models.DateField()),
                        ("currency", models.CharField(max_length=3)),
                        ("net_minor", models.BigIntegerField()),
                        ("tax_minor", models.BigIntegerField()),
                        ("gross_minor", models.BigIntegerField()),
                        ("snapshot", models.JSONField()),
                        ("snapshot_hash", models.CharField(max_length=64)),
                        ("chain_sequence", models.BigIntegerField(unique=True)),
                        ("previous_hash", models.CharField(max_length=64)),
                        ("hash", models.CharField(max_length=64)),
                        ("issued_at", models.DateTimeField()),
                        (
                            "issued_by",
                            models.ForeignKey(
                                null=True,
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-issued_on", "-chain_sequence"],
                        "indexes": [
                            models.Index(
                                fields=["due_on"], name="invoicing_i_due_on_697ebf_idx"
                            ),
                            models.Index(
                                fields=["issued_on"],
                                name="invoicing_i_issued__496fd4_idx",
                            ),
                        ],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("series", "number"), name="invoice_number_once"
                            ),
                            models.UniqueConstraint(
                                fields=("series", "year", "place"),
                                name="invoice_place_once",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    (
                                        "gross_minor",
                                        django.db.models.expressions.CombinedExpression(
                                            models.F("net_minor"),
                                            "+",
                                            models.F("tax_minor"),
                                        ),
                                    )
                                ),
                                name="invoice_gross_is_net_and_tax",
                            ),
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("series", "INVOICE"),
                                    ("corrects__isnull", False),
                                    _connector="OR",
                                ),
                                name="invoice_credit_names_what_it_corrects",
                            ),
                        ],
                    },
                ),
                migrations.CreateModel(
                    name="PaymentReversal",
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
                            "payment",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="reversal",
                                to="invoicing.payment",
                            ),
                        ),
                        ("because", models.CharField(max_length=200)),
                        ("reversed_at", models.DateTimeField()),
                        (
                            "reversed_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="QuoteLine",
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
                            "quote",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.CASCADE,
                                related_name="lines",
                                to="invoicing.quote",
                            ),
                        ),
                        ("position", models.PositiveSmallIntegerField()),
                        ("description", models.CharField(max_length=200)),
                        ("detail", models.CharField(blank=True, max_length=400)),
                        ("quantity_thousandths", models.BigIntegerField(default=1000)),
                        ("unit", models.CharField(blank=True, max_length=40)),
                        ("unit_price_minor", models.BigIntegerField()),
                        (
                            "tax_rate_basis_points",
                            models.PositiveIntegerField(default=0),
                        ),
                        (
                            "cost_minor",
                            models.BigIntegerField(
                                default=0, verbose_name="own cost of one"
                            ),
                        ),
                        ("optional", models.BooleanField(default=False)),
                    ],
                    options={
                        "ordering": ["position", "pk"],
                        "constraints": [
                            models.CheckConstraint(
                                condition=models.Q(
                                    ("unit_price_minor__gte", 0),
                                    ("quantity_thousandths__gt", 0),
                                    ("cost_minor__gte", 0),
                                ),
                                name="quote_line_has_a_price",
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="Allocation",
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
                            "payment",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="allocations",
                                to="invoicing.payment",
                            ),
                        ),
                        (
                            "invoice",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="allocations",
                                to="invoicing.invoice",
                            ),
                        ),
                        ("amount_minor", models.BigIntegerField()),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("payment", "invoice"), name="allocation_once"
                            ),
                            models.CheckConstraint(
                                condition=models.Q(("amount_minor", 0), _negated=True),
                                name="allocation_is_of_something",
                            ),
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="IssuedDocument",
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
                            "invoice",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="documents",
                                to="invoicing.invoice",
                            ),
                        ),
                        (
                            "kind",
                            models.CharField(
                                choices=[
                                    ("PDF", "PDF"),
                                    ("HYB", "PDF with data"),
                                    ("UBL", "UBL data"),
                                ],
                                max_length=4,
                            ),
                        ),
                        (
                            "file",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.storedfile",
                            ),
                        ),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("invoice", "kind"), name="document_once_a_kind"
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="PayoutPayment",
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
                            "line",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="payout_payments",
                                to="invoicing.bankline",
                            ),
                        ),
                        (
                            "payment",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="payout_payment",
                                to="invoicing.payment",
                            ),
                        ),
                    ],
                    options={
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Promise",
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
                            "invoice",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="promises",
                                to="invoicing.invoice",
                            ),
                        ),
                        ("promised_on", models.DateField()),
                        ("note", models.CharField(blank=True, max_length=200)),
                        ("noted_at", models.DateTimeField()),
                        (
                            "noted_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["-noted_at", "-pk"],
                        "indexes": [],
                        "constraints": [],
                    },
                ),
                migrations.CreateModel(
                    name="Reminder",
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
                            "invoice",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="reminders",
                                to="invoicing.invoice",
                            ),
                        ),
                        ("step", models.PositiveSmallIntegerField()),
                        (
                            "message",
                            models.OneToOneField(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to="studio.message",
                            ),
                        ),
                        ("sent_at", models.DateTimeField()),
                        (
                            "sent_by",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="+",
                                to=settings.AUTH_USER_MODEL,
                            ),
                        ),
                    ],
                    options={
                        "ordering": ["sent_at", "pk"],
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("invoice", "step"), name="reminder_step_once"
                            )
                        ],
                        "indexes": [],
                    },
                ),
                migrations.CreateModel(
                    name="TaxRow",
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
                            "invoice",
                            models.ForeignKey(
                                on_delete=django.db.models.deletion.PROTECT,
                                related_name="tax_rows",
                                to="invoicing.invoice",
                            ),
                        ),
                        ("category", models.CharField(max_length=4)),
                        ("rate_basis_points", models.PositiveIntegerField()),
                        ("taxable_minor", models.BigIntegerField()),
                        ("tax_minor", models.BigIntegerField()),
                    ],
                    options={
                        "constraints": [
                            models.UniqueConstraint(
                                fields=("invoice", "category", "rate_basis_points"),
                                name="tax_row_once_a_rate",
                            )
                        ],
                        "indexes": [],
                    },
                ),
            ],
        ),
        InstallGuard(INVOICE_GUARD),
        InstallGuard(TAX_ROW_GUARD),
        InstallGuard(DOCUMENT_GUARD),
        InstallGuard(PAYMENT_GUARD),
        InstallGuard(ALLOCATION_GUARD),
        InstallGuard(QUOTE_GUARD),
        InstallGuard(QUOTE_LINE_GUARD),
        InstallGuard(ACCEPTANCE_GUARD),
        InstallGuard(CLOSED_GUARD),
        InstallGuard(LINE_GUARD),
    ]
