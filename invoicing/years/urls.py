"""Addresses of the pages of years."""

from django.urls import path

from invoicing.years import views

urlpatterns = [
    path("money/years/", views.years, name="years"),
    path("money/years/<slug:starts_on>/", views.year, name="year"),
    path(
        "money/years/<slug:starts_on>/<slug:figure>/",
        views.year_figure,
        name="year_figure",
    ),
    path(
        "money/years/<slug:starts_on>/sheet.<slug:kind>",
        views.year_file,
        name="year_file",
    ),
]
