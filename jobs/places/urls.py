"""Addresses of the pages of places."""

from django.urls import path

from jobs.places import views

urlpatterns = [
    path("kit/places/", views.places, name="places"),
    path("kit/places/new/", views.place_new, name="place_new"),
    path("kit/places/clock/", views.position_echo, name="position_echo"),
    path("kit/places/<int:place_id>/", views.place, name="place"),
    path("kit/places/<int:place_id>/edit/", views.place_edit, name="place_edit"),
]
