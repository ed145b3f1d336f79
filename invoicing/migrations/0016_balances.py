"""What is open on each invoice and payment, kept by triggers from here on.

And two accounts more, for tax that waits for its money.
"""

from collections import defaultdict
from datetime import UTC, date, timedelta

import django.db.models.deletion
from django.db import migrations, models

from invoicing.invoices.balances import INVOICE_BALANCE
from invoicing.payments.balances import (
    ALLOCATION_BALANCE,
    PAYMENT_BALANCE,
    REVERSAL_BALANCE,
)
from studio.guards import InstallGuard

BATCH = 500


class Moves:
    """What moves each row's balance, and the latest day of it."""

    def __init__(self):
        self.minor = defaultdict(int)
        self.last_on = defaultdict(lambda: date.min)

    def add(self, key, minor, on):
        self.minor[key] += minor
        self.last_on[key] = max(self.last_on[key], on)

    def fields(self, row):
        left = {"currency": row.currency, "last_on": self.last_on[row.pk]}
        return left, self.minor[row.pk] or None


def write_balances(apps, _editor):
    of_invoices, of_payments = Moves(), Moves()
    add_papers(apps, of_invoices)
    add_payments(apps, of_payments)
    add_shares(apps, of_invoices, of_payments)
    balance = apps.get_model("invoicing", "InvoiceBalance")
    invoices = rows_of(apps, "Invoice").filter(series="INVOICE").defer("snapshot")
    made = []
    for row in invoices:
        left, minor = of_invoices.fields(row)
        made.append(
            balance(invoice_id=row.pk, due_on=row.due_on, open_minor=minor, **left)
        )
    balance.objects.bulk_create(made, batch_size=BATCH)
    balance = apps.get_model("invoicing", "PaymentBalance")
    made = []
    for row in rows_of(apps, "Payment"):
        left, minor = of_payments.fields(row)
        made.append(balance(payment_id=row.pk, loose_minor=minor, **left))
    balance.objects.bulk_create(made, batch_size=BATCH)


def add_papers(apps, of_invoices):
    for row in rows_of(apps, "Invoice").defer("snapshot"):
        if row.series == "INVOICE":
            of_invoices.add(row.pk, row.gross_minor, row.tax_point_on)
        if row.corrects_id:
            of_invoices.add(row.corrects_id, -row.gross_minor, row.tax_point_on)


def add_payments(apps, of_payments):
    for row in rows_of(apps, "Payment"):
        is_sale = row.voucher_id is not None and row.method != "VOUCHER"
        worth = 0 if is_sale else row.amount_minor + row.rounding_minor
        of_payments.add(row.pk, worth, row.received_on)


def add_shares(apps, of_invoices, of_payments):
    gone = dict(
        rows_of(apps, "PaymentReversal").values_list("payment_id", "reversed_at")
    )
    for row in rows_of(apps, "Allocation").select_related("payment"):
        on = row.moved_on or row.payment.received_on
        of_invoices.add(row.invoice_id, -row.amount_minor, on)
        of_payments.add(row.payment_id, -row.amount_minor, on)
        if at := gone.get(row.payment_id):
            of_invoices.add(row.invoice_id, row.amount_minor, day_after(at))
    for payment_id, at in gone.items():
        left = of_payments.minor[payment_id]
        of_payments.add(payment_id, -left, day_after(at))


def day_after(at):
    return at.astimezone(UTC).date() + timedelta(days=1)


def rows_of(apps, name):
    return apps.get_model("invoicing", name).objects.order_by("pk")


class Migration(migrations.Migration):
    dependencies = [("invoicing", "0015_stages")]

    operations = [
        migrations.CreateModel(
            name="InvoiceBalance",
            fields=[
                (
                    "invoice",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="balance",
                        serialize=False,
                        to="invoicing.invoice",
                    ),
                ),
                ("currency", models.CharField(max_length=3)),
                ("due_on", models.DateField()),
                ("open_minor", models.BigIntegerField(null=True)),
                ("last_on", models.DateField()),
            ],
            options={
                "indexes": [
                    models.Index(
                        condition=models.Q(("open_minor__isnull", False)),
                        fields=["currency", "due_on", "open_minor"],
                        name="balance_open",
                    ),
                    models.Index(fields=["last_on"], name="balance_last"),
                ],
            },
        ),
        migrations.CreateModel(
            name="PaymentBalance",
            fields=[
                (
                    "payment",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="balance",
                        serialize=False,
                        to="invoicing.payment",
                    ),
                ),
                ("currency", models.CharField(max_length=3)),
                ("loose_minor", models.BigIntegerField(null=True)),
                ("last_on", models.DateField()),
            ],
            options={
                "indexes": [
                    models.Index(
                        condition=models.Q(("loose_minor__isnull", False)),
                        fields=["currency", "loose_minor"],
                        name="balance_loose",
                    ),
                    models.Index(fields=["last_on"], name="balance_moved"),
                ],
            },
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
                    ("OUTPUT_HELD", "Tax on sales, due when they are paid"),
                    ("INPUT_TAX", "Tax on purchases"),
                    ("INPUT_HELD", "Tax on purchases, claimed when they are paid"),
                    ("DEPOSITS", "Deposits and stages invoiced ahead"),
                    ("OWNER", "Owner’s own money"),
                    ("SALES", "Sales"),
                    ("LOSSES", "Debts written off"),
                    ("ROUNDING", "Cash rounding"),
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
        migrations.RunPython(write_balances, migrations.RunPython.noop),
        InstallGuard(INVOICE_BALANCE),
        InstallGuard(PAYMENT_BALANCE),
        InstallGuard(ALLOCATION_BALANCE),
        InstallGuard(REVERSAL_BALANCE),
    ]
