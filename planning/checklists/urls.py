"""Addresses of the checklist's page."""

from django.urls import path

from planning.checklists import views

urlpatterns = [
    path("plan/<int:booking_id>/checklist/", views.checklist, name="checklist"),
    path(
        "plan/<int:booking_id>/checklist/ticks/",
        views.checklist_tick,
        name="checklist_tick",
    ),
    path(
        "plan/<int:booking_id>/checklist/take/",
        views.checklist_take,
        name="checklist_take",
    ),
    path(
        "plan/<int:booking_id>/checklist/remove/",
        views.checklist_remove,
        name="checklist_remove",
    ),
]
