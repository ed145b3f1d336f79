"""Addresses of the pages of what is owed."""

from django.urls import path

from invoicing.owed import many_views, views

urlpatterns = [
    path("money/owed/", views.owed, name="owed"),
    path("money/owed/list.<slug:kind>", views.owed_file, name="owed_file"),
    path("money/owed/rates/", views.late_terms, name="late_terms"),
    path("money/owed/<int:client_id>/", views.statement, name="account"),
    path("money/remind/", many_views.remind_many, name="remind_many"),
    path("money/invoices/<int:invoice_id>/remind/", views.remind, name="remind"),
    path("money/invoices/<int:invoice_id>/promise/", views.promise, name="promise"),
]
