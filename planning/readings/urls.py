"""Addresses of the page of readings."""

from django.urls import path

from planning.readings import views

urlpatterns = [
    path("plan/<int:booking_id>/readings/", views.readings, name="readings"),
    path(
        "plan/<int:booking_id>/readings/<int:reading_id>/shift/",
        views.reading_shift,
        name="reading_shift",
    ),
]
