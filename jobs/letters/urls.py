"""Addresses of the pages of letters."""

from django.urls import path

from jobs.letters import views

urlpatterns = [
    path("letters/", views.letters, name="letters"),
    path("letters/<slug:kind>/", views.wording, name="wording"),
    path("sessions/<int:booking_id>/letters/<slug:kind>/", views.letter, name="letter"),
    path(
        "sessions/<int:booking_id>/letters/<slug:kind>/leave/",
        views.letter_leave,
        name="letter_leave",
    ),
]
