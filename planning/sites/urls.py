"""Addresses of the pages of a site."""

from django.urls import path

from planning.sites import views

urlpatterns = [
    path("places/<int:place_id>/skyline/", views.skyline, name="skyline"),
    path("places/<int:place_id>/sun-gone/", views.sun_gone, name="sun_gone"),
    path("sun-marks/<int:mark_id>/drop/", views.sun_mark_drop, name="sun_mark_drop"),
]
