"""Addresses of the list by which kit is ticked back."""

from django.urls import path

from jobs.returns import views

urlpatterns = [
    path("jobs/sessions/<int:booking_id>/kit-back/", views.kit_back, name="kit_back"),
]
