"""Addresses of the pages that record money."""

from django.urls import path

from invoicing.payments import views

urlpatterns = [
    path(
        "money/invoices/<int:invoice_id>/payment/",
        views.payment_new,
        name="payment_new",
    ),
    path(
        "money/drafts/<int:draft_id>/received/",
        views.deposit_received,
        name="deposit_received",
    ),
    path(
        "money/payments/<int:payment_id>/reverse/",
        views.payment_reverse,
        name="payment_reverse",
    ),
]
