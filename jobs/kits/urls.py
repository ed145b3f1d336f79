"""Addresses of the pages of kit."""

from django.urls import path

from jobs.kits import calibration_views, insurance_views, views

SET = "kit/sets/<int:kit_id>"

urlpatterns = [
    path("kit/", views.kit, name="kit"),
    path("kit/new/", views.kit_item_new, name="kit_item_new"),
    path("kit/<int:item_id>/", views.kit_item, name="kit_item"),
    path("kit/<int:item_id>/retire/", views.kit_item_retire, name="kit_item_retire"),
    path("kit/<int:item_id>/test/", calibration_views.kit_proof, name="kit_proof"),
    path(
        "kit/<int:item_id>/test/drop/",
        calibration_views.kit_proof_drop,
        name="kit_proof_drop",
    ),
    path(
        "kit/<int:item_id>/in-order/", views.kit_item_in_order, name="kit_item_in_order"
    ),
    path("kit/insurance.csv", insurance_views.insured_csv, name="kit_insured_csv"),
    path("kit/insurance.pdf", insurance_views.insured_pdf, name="kit_insured_pdf"),
    path("kit/sets/new/", views.kit_set_new, name="kit_set_new"),
    path(f"{SET}/", views.kit_set, name="kit_set"),
    path(f"{SET}/break-up/", views.kit_set_break_up, name="kit_set_break_up"),
]
