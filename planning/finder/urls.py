"""Addresses of the finder."""

from django.urls import path

from planning.finder import views

urlpatterns = [
    path("finder/", views.finder, name="finder"),
    path("finder/hold/", views.finder_hold, name="finder_hold"),
]
