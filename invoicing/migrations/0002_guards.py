"""Issued papers, payments and their rows are only added to."""

from django.db import migrations

from invoicing.invoices.models import DOCUMENT_GUARD, INVOICE_GUARD, TAX_ROW_GUARD
from invoicing.payments.models import ALLOCATION_GUARD, PAYMENT_GUARD
from invoicing.quotes.guards import ACCEPTANCE_GUARD, QUOTE_GUARD, QUOTE_LINE_GUARD
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    dependencies = [("invoicing", "0001_initial"), ("studio", "0002_guards")]

    operations = [
        InstallGuard(INVOICE_GUARD),
        InstallGuard(TAX_ROW_GUARD),
        InstallGuard(DOCUMENT_GUARD),
        InstallGuard(PAYMENT_GUARD),
        InstallGuard(ALLOCATION_GUARD),
        InstallGuard(QUOTE_GUARD),
        InstallGuard(QUOTE_LINE_GUARD),
        InstallGuard(ACCEPTANCE_GUARD),
    ]
