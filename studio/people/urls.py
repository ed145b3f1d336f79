"""Addresses of the pages on people."""

from django.urls import path

from studio.people import views

urlpatterns = [
    path("people/", views.people, name="people"),
    path("people/new/", views.person_new, name="person_new"),
    path("people/<int:person_id>/", views.person, name="person"),
    path("people/<int:person_id>/close/", views.person_close, name="person_close"),
    path("people/<int:person_id>/reopen/", views.person_reopen, name="person_reopen"),
    path(
        "people/<int:person_id>/password/",
        views.person_password,
        name="person_password",
    ),
]
