"""Addresses of the pages of the books."""

from django.urls import path

from invoicing.books import views

urlpatterns = [
    path("money/books/", views.books, name="books"),
    path("money/books/accounts/", views.codes, name="account_codes"),
    path("money/books/<slug:starts_on>/", views.period, name="period"),
    path(
        "money/books/<slug:starts_on>/close/", views.period_close, name="period_close"
    ),
    path(
        "money/books/<slug:starts_on>/<str:name>", views.period_file, name="period_file"
    ),
]
