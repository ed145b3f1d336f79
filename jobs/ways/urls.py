"""The address of a place's ways."""

from django.urls import path

from jobs.ways import views

urlpatterns = [
    path("kit/places/<int:place_id>/ways/", views.ways, name="place_ways"),
]
