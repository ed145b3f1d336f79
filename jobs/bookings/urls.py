"""Addresses of the pages of sessions."""

from django.urls import path

from jobs.bookings import views

ACT = "bookings/<int:booking_id>"

urlpatterns = [
    path("diary/", views.diary, name="diary"),
    path("jobs/<int:job_id>/session/", views.session, name="session"),
    path(f"{ACT}/pencil/", views.booking_act, {"act": "pencil"}, name="pencil"),
    path(f"{ACT}/confirm/", views.booking_act, {"act": "confirm"}, name="confirm"),
    path(f"{ACT}/cancel/", views.booking_act, {"act": "cancel"}, name="cancel"),
]
