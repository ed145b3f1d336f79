"""Addresses of the time worked on a job."""

from django.urls import path

from jobs.hours import views

ONE = "jobs/<int:job_id>/time"

urlpatterns = [
    path(f"{ONE}/", views.hours, name="hours"),
    path(f"{ONE}/start/", views.clock_start, name="clock_start"),
    path(f"{ONE}/stop/", views.clock_stop, name="clock_stop"),
    path(f"{ONE}/<int:worked_id>/drop/", views.time_drop, name="time_drop"),
]
