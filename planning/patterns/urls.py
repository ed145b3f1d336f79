"""Addresses of the library of set-ups."""

from django.urls import path

from planning.patterns import views

urlpatterns = [
    path("plan/library/", views.set_up_library, name="set_up_library"),
    path("plan/library/<int:saved_id>/", views.saved_rename, name="saved_rename"),
    path("plan/library/<int:saved_id>/drop/", views.saved_drop, name="saved_drop"),
    path("plan/set-up/<int:set_up_id>/keep/", views.set_up_keep, name="set_up_keep"),
    path("plan/<int:booking_id>/find/", views.set_up_find, name="set_up_find"),
    path(
        "plan/<int:booking_id>/find/library/<int:saved_id>/",
        views.saved_bring,
        name="saved_bring",
    ),
    path(
        "plan/<int:booking_id>/find/earlier/<int:set_up_id>/",
        views.earlier_bring,
        name="earlier_bring",
    ),
]
