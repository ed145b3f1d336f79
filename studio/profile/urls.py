"""Addresses of the first day and of Settings."""

from django.urls import path

from studio.profile import views

urlpatterns = [
    path("first-run/", views.first_run, name="first_run"),
    path("first-run/ready/", views.first_ready, name="first_ready"),
    path("first-run/finish/", views.first_finish, name="first_finish"),
    path("first-run/tax-says/", views.tax_says, name="tax_says"),
    path("first-run/<slug:slug>/", views.first_step, name="first_step"),
    path("settings/", views.settings, name="settings"),
    path("settings/<slug:slug>/", views.settings_section, name="settings_section"),
]
