"""The light plan of a booking, its kit checklist and its call sheet."""

from django.apps import AppConfig


class PlanningConfig(AppConfig):
    """The planning app."""

    name = "planning"
