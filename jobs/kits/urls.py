"""Addresses of the pages of kit."""

from django.urls import path

from jobs.kits import views

urlpatterns = [
    path("kit/", views.kit, name="kit"),
    path("kit/new/", views.kit_item_new, name="kit_item_new"),
    path("kit/<int:item_id>/", views.kit_item, name="kit_item"),
]
