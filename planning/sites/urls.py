"""Addresses of the pages of a site."""

from django.urls import path

from planning.sites import views

urlpatterns = [
    path("places/<int:place_id>/skyline/", views.skyline, name="skyline"),
]
