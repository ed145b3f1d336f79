"""Addresses of weather as seen."""

from django.urls import path

from planning.weather import views

urlpatterns = [
    path("plan/<int:booking_id>/weather/", views.weather, name="weather"),
]
