"""Addresses of the pages of the bank."""

from django.urls import path

from invoicing.bank import line_views, views

urlpatterns = [
    path("money/bank/", views.bank, name="bank"),
    path("money/bank/read/", views.statement_new, name="bank_read"),
    path(
        "money/bank/read/<int:file_id>/", views.statement_columns, name="bank_columns"
    ),
    path("money/bank/settle/", views.settle_sure, name="bank_settle_sure"),
    path("money/bank/<int:line_id>/", line_views.line, name="bank_line"),
    path("money/bank/<int:line_id>/<slug:step>/", line_views.step, name="bank_step"),
]
