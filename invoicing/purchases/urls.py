"""Addresses of the pages of purchases."""

from django.urls import path

from invoicing.purchases import views

urlpatterns = [
    path("money/purchases/new/", views.purchase_new, name="purchase_new"),
    path("money/purchases/drive/", views.drive_new, name="drive_new"),
    path("money/purchases/<int:purchase_id>/", views.purchase, name="purchase"),
    path(
        "money/purchases/<int:purchase_id>/change/",
        views.purchase_edit,
        name="purchase_edit",
    ),
    path(
        "money/purchases/<int:purchase_id>/receipt/",
        views.receipt,
        name="purchase_receipt",
    ),
    path(
        "money/purchases/<int:purchase_id>/receipt/keep/",
        views.receipt_keep,
        name="receipt_keep",
    ),
    path(
        "money/purchases/<int:purchase_id>/take-back/",
        views.purchase_drop,
        name="purchase_drop",
    ),
]
