"""Addresses of blocked time."""

from django.urls import path

from jobs.away import views

urlpatterns = [
    path("diary/away/", views.away, name="away"),
    path("diary/away/<int:blocked_id>/free/", views.away_free, name="away_free"),
]
