"""Addresses of issued papers as data."""

from django.urls import path

from invoicing.einvoices import views

urlpatterns = [
    path(
        "money/invoices/<int:invoice_id>/e-invoice/",
        views.einvoice_pdf,
        name="einvoice_pdf",
    ),
    path(
        "money/invoices/<int:invoice_id>/ubl/", views.einvoice_ubl, name="einvoice_ubl"
    ),
]
