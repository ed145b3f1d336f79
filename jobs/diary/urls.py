"""The address of the diary."""

from django.urls import path

from jobs.diary import views

urlpatterns = [path("diary/", views.diary, name="diary")]
