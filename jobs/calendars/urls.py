"""Addresses of calendars: a person's own page, the feed, and invitations."""

from django.urls import path

from jobs.calendars import views

urlpatterns = [
    path("calendar/", views.calendar, name="calendar"),
    path("calendar/renew/", views.calendar_renew, name="calendar_renew"),
    path("calendar/close/", views.calendar_close, name="calendar_close"),
    path("calendar/busy/", views.busy_new, name="busy_new"),
    path("calendar/busy/<int:calendar_id>/read/", views.busy_read, name="busy_read"),
    path("calendar/busy/<int:calendar_id>/drop/", views.busy_drop, name="busy_drop"),
    path("bookings/<int:booking_id>/invite/", views.invite, name="invite"),
    path("p/calendar/<str:token>/", views.calendar_feed, name="calendar_feed"),
]
