"""Clients, places, kit, jobs and bookings."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    """The jobs app."""

    name = "jobs"
