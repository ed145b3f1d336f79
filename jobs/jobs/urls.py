"""Addresses of the pages of jobs."""

from django.urls import path

from jobs.jobs import views

urlpatterns = [
    path("jobs/", views.jobs, name="jobs"),
    path("jobs/new/", views.enquiry_new, name="enquiry_new"),
    path("jobs/new/known/", views.enquiry_known, name="enquiry_known"),
    path("jobs/<int:job_id>/", views.job, name="job"),
    path("jobs/<int:job_id>/edit/", views.job_edit, name="job_edit"),
]
