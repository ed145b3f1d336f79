"""Addresses of the pages that record money."""

from django.urls import path

from invoicing.payments import page_views, paper_views, views

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
    path("money/payments/new/", page_views.payment_on_account, name="on_account"),
    path("money/payments/<int:payment_id>/", page_views.payment, name="payment"),
    path(
        "money/payments/<int:payment_id>/off/<int:invoice_id>/",
        page_views.payment_off,
        name="payment_off",
    ),
    path(
        "money/payments/<int:payment_id>/back/",
        page_views.payment_back,
        name="payment_back",
    ),
    path(
        "money/invoices/<int:invoice_id>/back/",
        page_views.invoice_back,
        name="invoice_back",
    ),
    path(
        "money/payments/<int:payment_id>/receipt.pdf",
        paper_views.receipt_pdf,
        name="receipt_pdf",
    ),
    path(
        "money/payments/<int:payment_id>/receipt/",
        paper_views.receipt_send,
        name="receipt_send",
    ),
    path(
        "money/payments/<int:payment_id>/reverse/",
        views.payment_reverse,
        name="payment_reverse",
    ),
]
