"""Addresses of slot days, of their times, and of the pages behind their links."""

from django.urls import path

from jobs.slotdays import client_views, views

DAY = "jobs/sessions/<int:booking_id>/times"

urlpatterns = [
    path(f"{DAY}/", views.slot_day, name="slot_day"),
    path(f"{DAY}/offer/", views.slot_day_offer, name="slot_day_offer"),
    path(f"{DAY}/open/", views.slot_day_open, name="slot_day_open"),
    path(f"{DAY}/close/", views.slot_day_close, name="slot_day_close"),
    path(f"{DAY}/tell/", views.slot_day_tell, name="slot_day_tell"),
    path(f"{DAY}/came/", views.slot_day_came, name="slot_day_came"),
    path(f"{DAY}/csv/", views.slot_day_csv, name="slot_day_csv"),
    path("jobs/sittings/<int:sitting_id>/", views.sitting, name="sitting"),
    path("p/slot-day/<str:token>/", client_views.times, name="times"),
    path("p/sitting/<str:token>/", client_views.your_sitting, name="your_sitting"),
]
