"""Prices, quotes, invoices and payments."""

from django.apps import AppConfig


class InvoicingConfig(AppConfig):
    """The invoicing app."""

    name = "invoicing"
