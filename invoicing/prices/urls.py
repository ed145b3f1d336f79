"""Addresses of the price list."""

from django.urls import path

from invoicing.prices import views

urlpatterns = [
    path("prices/", views.prices, name="prices"),
    path("prices/new/", views.price_new, name="price_new"),
    path("prices/rates/", views.rate_changes, name="rate_changes"),
    path("prices/<int:item_id>/", views.price_edit, name="price_edit"),
]
