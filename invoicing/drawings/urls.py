"""Addresses of the pages of the owner's own money."""

from django.urls import path

from invoicing.drawings import views

urlpatterns = [
    path("money/own/", views.drawings, name="drawings"),
    path("money/own/new/", views.drawing_new, name="drawing_new"),
    path("money/own/<int:move_id>/take-back/", views.drawing_drop, name="drawing_drop"),
]
