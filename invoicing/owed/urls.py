"""Addresses of the pages of what is owed."""

from django.urls import path

from invoicing.owed import (
    age_views,
    charge_views,
    loss_views,
    many_views,
    statement_views,
    views,
)

urlpatterns = [
    path("money/owed/", age_views.owed, name="owed"),
    path("money/owed/list.<slug:kind>", age_views.owed_file, name="owed_file"),
    path("money/owed/rates/", views.late_terms, name="late_terms"),
    path("money/owed/<int:client_id>/", views.statement, name="account"),
    path(
        "money/owed/<int:client_id>/statement.pdf",
        statement_views.statement_pdf,
        name="statement_pdf",
    ),
    path(
        "money/owed/<int:client_id>/send/",
        statement_views.statement_send,
        name="statement_send",
    ),
    path("money/remind/", many_views.remind_many, name="remind_many"),
    path("money/invoices/<int:invoice_id>/remind/", views.remind, name="remind"),
    path(
        "money/invoices/<int:invoice_id>/write-off/",
        loss_views.write_off,
        name="write_off",
    ),
    path(
        "money/invoices/<int:invoice_id>/late/",
        charge_views.late_charge,
        name="late_charge",
    ),
    path("money/invoices/<int:invoice_id>/promise/", views.promise, name="promise"),
]
