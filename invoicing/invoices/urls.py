"""Addresses of the pages of invoices."""

from django.urls import path

from invoicing.invoices import credit_views, draft_views, stage_views, views

urlpatterns = [
    path("money/invoices/<int:invoice_id>/", views.invoice, name="invoice"),
    path("money/invoices/<int:invoice_id>/pdf/", views.invoice_pdf, name="invoice_pdf"),
    path(
        "money/invoices/<int:invoice_id>/credit/",
        credit_views.invoice_credit,
        name="invoice_credit",
    ),
    path(
        "money/invoices/<int:invoice_id>/send/", views.invoice_send, name="invoice_send"
    ),
    path("money/drafts/<int:draft_id>/", draft_views.draft, name="draft"),
    path(
        "money/drafts/<int:draft_id>/drop/", draft_views.draft_drop, name="draft_drop"
    ),
    path(
        "money/jobs/<int:job_id>/balance/",
        draft_views.balance_draft,
        name="balance_draft",
    ),
    path(
        "money/jobs/<int:job_id>/stage/",
        stage_views.stage_draft,
        name="stage_draft",
    ),
]
