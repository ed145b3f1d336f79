"""Addresses of the pages of vouchers."""

from django.urls import path

from invoicing.vouchers import views

urlpatterns = [
    path("money/vouchers/", views.vouchers, name="vouchers"),
    path("money/vouchers/new/", views.voucher_sell, name="voucher_sell"),
    path("money/vouchers/<int:voucher_id>/", views.voucher, name="voucher"),
    path(
        "money/vouchers/<int:voucher_id>/voucher.pdf",
        views.voucher_pdf,
        name="voucher_pdf",
    ),
    path(
        "money/vouchers/<int:voucher_id>/send/",
        views.voucher_send,
        name="voucher_send",
    ),
    path(
        "money/vouchers/<int:voucher_id>/erase/",
        views.voucher_erase,
        name="voucher_erase",
    ),
    path(
        "money/invoices/<int:invoice_id>/voucher/",
        views.voucher_redeem,
        name="voucher_redeem",
    ),
]
