"""Addresses of the pages of clients."""

from django.urls import path

from jobs.clients import views

urlpatterns = [
    path("clients/", views.clients, name="clients"),
    path("clients/new/", views.client_new, name="client_new"),
    path("clients/<int:client_id>/", views.client, name="client"),
    path("clients/<int:client_id>/edit/", views.client_edit, name="client_edit"),
    path("clients/<int:client_id>/contacts/", views.contacts, name="contacts"),
    path(
        "clients/<int:client_id>/merge/<int:other_id>/",
        views.client_merge,
        name="client_merge",
    ),
    path("clients/merges/<int:merge_id>/undo/", views.merge_undo, name="merge_undo"),
]
