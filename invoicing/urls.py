"""The addresses of this app's pages."""

from django.urls import URLPattern, URLResolver

app_name = "invoicing"

urlpatterns: list[URLPattern | URLResolver] = []
