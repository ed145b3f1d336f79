"""Addresses of the money tables."""

from django.urls import path

from invoicing.lists import chosen_views, receipt_views, views

urlpatterns = [
    path("money/", views.money, name="money"),
    path("money/payments/", views.payments, name="payments"),
    path("money/purchases/", views.purchases, name="purchases"),
    path("money/purchases/no-receipt/", receipt_views.no_receipts, name="no_receipts"),
    path(
        "money/purchases/<int:purchase_id>/expect-receipt/",
        receipt_views.receipt_expected,
        name="receipt_expected",
    ),
    path("money/lists/<slug:which>.<slug:kind>", views.list_file, name="list_file"),
    path(
        "money/lists/<slug:which>/chosen/",
        chosen_views.list_chosen,
        name="list_chosen",
    ),
]
