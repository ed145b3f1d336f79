"""The foundation: people, history, mail, private links, stored files, paper."""

from importlib import import_module

from django.apps import AppConfig
from django.utils.module_loading import autodiscover_modules


class StudioConfig(AppConfig):
    """The foundation app."""

    name = "studio"

    def ready(self) -> None:
        """Find what every app shows, searches, keeps in its demo, asks and takes in."""
        autodiscover_modules("panels", "search", "demo", "sections", "importing")
        import_module("studio.profile.sections")
        for package in ("backups", "mail"):
            import_module(f"studio.{package}.panels")
        import_module("studio.checks.deploy")
