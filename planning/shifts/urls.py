"""Address that takes a shift back."""

from django.urls import path

from planning.shifts import views

urlpatterns = [
    path(
        "plan/shift/<int:shift_id>/back/",
        views.shift_back,
        name="shift_back",
    ),
]
