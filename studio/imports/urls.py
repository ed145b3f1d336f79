"""Addresses of the pages of lists that are brought in."""

from django.urls import path

from studio.imports import views

urlpatterns = [
    path("settings/lists/", views.lists, name="lists"),
    path("settings/lists/<slug:slug>/", views.list_new, name="list_new"),
    path(
        "settings/lists/<slug:slug>/example/", views.list_example, name="list_example"
    ),
    path(
        "settings/lists/<slug:slug>/<int:list_id>/", views.list_match, name="list_match"
    ),
    path(
        "settings/lists/<slug:slug>/<int:list_id>/leave/",
        views.list_leave,
        name="list_leave",
    ),
]
