"""Addresses of the pages of places."""

from django.urls import path

from jobs.places import views

urlpatterns = [
    path("places/new/", views.place_new, name="place_new"),
    path("places/<int:place_id>/", views.place, name="place"),
    path("places/<int:place_id>/edit/", views.place_edit, name="place_edit"),
]
