"""Vouchers, receipts, and money that is set on invoices later than it came."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from invoicing.payments.models import ALLOCATION_GUARD, PAYMENT_GUARD, RECEIPT_GUARD
from invoicing.vouchers.models import VOUCHER_GUARD
from studio.guards import InstallGuard, LiftGuard


class Migration(migrations.Migration):
    dependencies = [
        ("invoicing", "0009_bookkeepers_side"),
        ("jobs", "0017_slot_days"),
        ("studio", "0012_books_years_and_links"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        LiftGuard(PAYMENT_GUARD),
        LiftGuard(ALLOCATION_GUARD),
        migrations.CreateModel(
            name="PrintedReceipt",
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
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Voucher",
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
                ("code", models.CharField(max_length=12, unique=True)),
                ("given_to", models.CharField(blank=True, max_length=120)),
                ("greeting", models.TextField(blank=True, max_length=400)),
                ("amount_minor", models.BigIntegerField()),
                ("remaining_minor", models.BigIntegerField()),
                ("currency", models.CharField(max_length=3)),
                ("sold_on", models.DateField()),
                ("valid_until_on", models.DateField(blank=True, null=True)),
                ("sold_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["-sold_on", "-pk"],
            },
        ),
        migrations.RemoveConstraint(
            model_name="allocation",
            name="allocation_once",
        ),
        migrations.AddField(
            model_name="allocation",
            name="because",
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name="allocation",
            name="moved_on",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="payment",
            name="pays_back",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="paid_back",
                to="invoicing.payment",
            ),
        ),
        migrations.AlterField(
            model_name="accountcode",
            name="account",
            field=models.CharField(
                choices=[
                    ("BANK", "Bank"),
                    ("CARD", "Card payments on their way"),
                    ("CASH", "Cash"),
                    ("RECEIVABLE", "Owed by clients"),
                    ("ON_ACCOUNT", "Clients’ money without an invoice"),
                    ("VOUCHERS", "Vouchers not redeemed yet"),
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
        migrations.AlterField(
            model_name="payment",
            name="method",
            field=models.CharField(
                choices=[
                    ("TRANSFER", "Bank transfer"),
                    ("CARD", "Card"),
                    ("CASH", "Cash"),
                    ("CHEQUE", "Cheque"),
                    ("VOUCHER", "Voucher"),
                ],
                default="TRANSFER",
                max_length=8,
            ),
        ),
        migrations.AddConstraint(
            model_name="allocation",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("amount_minor__gt", 0),
                    ("moved_on__isnull", True),
                    models.Q(("because", ""), _negated=True),
                    _connector="OR",
                ),
                name="allocation_taken_off_says_why",
            ),
        ),
        migrations.AddField(
            model_name="printedreceipt",
            name="file",
            field=models.OneToOneField(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="studio.storedfile",
            ),
        ),
        migrations.AddField(
            model_name="printedreceipt",
            name="payment",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="receipts",
                to="invoicing.payment",
            ),
        ),
        migrations.AddField(
            model_name="voucher",
            name="client",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="vouchers",
                to="jobs.client",
            ),
        ),
        migrations.AddField(
            model_name="voucher",
            name="sold_by",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="payment",
            name="voucher",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="payments",
                to="invoicing.voucher",
            ),
        ),
        migrations.AddConstraint(
            model_name="payment",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("method", "VOUCHER"), _negated=True),
                    ("voucher__isnull", False),
                    _connector="OR",
                ),
                name="payment_by_voucher_names_it",
            ),
        ),
        migrations.AddConstraint(
            model_name="voucher",
            constraint=models.CheckConstraint(
                condition=models.Q(("amount_minor__gt", 0)),
                name="voucher_is_worth_something",
            ),
        ),
        migrations.AddConstraint(
            model_name="voucher",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("remaining_minor__gte", 0),
                    ("remaining_minor__lte", models.F("amount_minor")),
                ),
                name="voucher_never_below_nothing_or_above_its_sum",
            ),
        ),
        InstallGuard(PAYMENT_GUARD),
        InstallGuard(ALLOCATION_GUARD),
        InstallGuard(RECEIPT_GUARD),
        InstallGuard(VOUCHER_GUARD),
    ]
