"""Addresses of the pages of clients."""

from django.urls import path

from jobs.clients import views

urlpatterns = [
    path("clients/", views.clients, name="clients"),
    path("clients/new/", views.client_new, name="client_new"),
    path("clients/<int:client_id>/", views.client, name="client"),
    path("clients/<int:client_id>/edit/", views.client_edit, name="client_edit"),
]
