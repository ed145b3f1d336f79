"""Addresses of the light of a date."""

from django.urls import path

from planning.days import views

urlpatterns = [
    path("light/", views.light_day, name="light_day"),
]
