"""Addresses of the pages of sessions."""

from django.urls import path

from jobs.bookings import job_views, move_views, views

JOB = "jobs/<int:job_id>"
ONE = "jobs/sessions/<int:booking_id>"

urlpatterns = [
    path(f"{JOB}/shot/", job_views.job_shot, name="job_shot"),
    path(f"{JOB}/delivered/", job_views.job_delivered, name="job_delivered"),
    path(f"{JOB}/reopen/", job_views.job_reopen, name="job_reopen"),
    path(f"{JOB}/lost/", job_views.job_lost, name="job_lost"),
    path(f"{JOB}/cancel/", job_views.job_cancel, name="job_cancel"),
    path(f"{JOB}/session/", views.session, name="session"),
    path(f"{JOB}/session/echo/", views.session_echo, name="session_echo"),
    path(f"{ONE}/pencil/", views.pencil, name="pencil"),
    path(f"{ONE}/confirm/", views.confirm, name="confirm"),
    path(f"{ONE}/let-go/", views.let_go, name="let_go"),
    path(f"{ONE}/move/", move_views.move, name="move"),
    path(f"{ONE}/cancel/", move_views.cancel, name="cancel"),
    path(f"{ONE}/take-up/", move_views.take_up, name="take_up"),
    path(f"{ONE}/weather/", move_views.weather, name="weather_call"),
    path(f"{ONE}/weather/go/", move_views.weather_go, name="weather_go"),
    path(f"{ONE}/weather/spare/", move_views.weather_spare, name="weather_spare"),
    path(f"{ONE}/people/", views.attendees, name="attendees"),
]
