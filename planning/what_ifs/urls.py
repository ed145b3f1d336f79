"""Addresses of the pages that try a plan."""

from django.urls import path

from planning.what_ifs import views

urlpatterns = [
    path("plan/<int:booking_id>/what-if/", views.what_if, name="what_if"),
    path(
        "plan/<int:booking_id>/what-if/adopt/",
        views.what_if_adopt,
        name="what_if_adopt",
    ),
]
