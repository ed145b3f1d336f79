"""Addresses of the pages of jobs."""

from django.urls import path

from jobs.jobs import views

urlpatterns = [
    path("jobs/", views.jobs, name="jobs"),
    path("jobs/new/", views.enquiry_new, name="enquiry_new"),
    path("jobs/<int:job_id>/", views.job, name="job"),
    path("jobs/<int:job_id>/lost/", views.job_lost, name="job_lost"),
    path("jobs/<int:job_id>/shot/", views.job_act, {"act": "shot"}, name="job_shot"),
    path(
        "jobs/<int:job_id>/delivered/",
        views.job_act,
        {"act": "delivered"},
        name="job_delivered",
    ),
]
