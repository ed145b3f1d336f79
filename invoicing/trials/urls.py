"""The address of the button that starts a quote to oneself."""

from django.urls import path

from invoicing.trials import views

urlpatterns = [
    path("quotes/to-yourself/", views.trial_start, name="trial_start"),
]
