"""Addresses of the public form, of answers, and of the table of sources."""

from django.urls import path

from jobs.enquiries import views

urlpatterns = [
    path("enquire/", views.enquire, name="enquire"),
    path("enquire/thanks/", views.enquire_thanks, name="enquire_thanks"),
    path("jobs/sources/", views.sources, name="sources"),
    path("jobs/<int:job_id>/reply/", views.reply, name="reply"),
    path("jobs/<int:job_id>/answered/", views.answered, name="answered"),
]
