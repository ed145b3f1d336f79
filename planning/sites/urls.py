"""Addresses of the pages of a site."""

from django.urls import path

from planning.sites import room_views, views

urlpatterns = [
    path("places/<int:place_id>/skyline/", views.skyline, name="skyline"),
    path("places/<int:place_id>/rooms/new/", room_views.room_new, name="room_new"),
    path("rooms/<int:room_id>/", room_views.room, name="room"),
    path("rooms/<int:room_id>/remove/", room_views.room_remove, name="room_remove"),
    path("rooms/<int:room_id>/windows/new/", room_views.window_new, name="window_new"),
    path("windows/<int:window_id>/", room_views.window, name="window"),
    path(
        "windows/<int:window_id>/remove/",
        room_views.window_remove,
        name="window_remove",
    ),
    path("places/<int:place_id>/sun-gone/", views.sun_gone, name="sun_gone"),
    path("sun-marks/<int:mark_id>/drop/", views.sun_mark_drop, name="sun_mark_drop"),
]
