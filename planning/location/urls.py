"""Addresses of the page on location."""

from django.urls import path

from planning.location import views

urlpatterns = [
    path("plan/<int:booking_id>/location/", views.location, name="location"),
    path(
        "plan/<int:booking_id>/location/worker.js",
        views.location_worker,
        name="location_worker",
    ),
    path(
        "plan/<int:booking_id>/location/tick/",
        views.location_tick,
        name="location_tick",
    ),
]
