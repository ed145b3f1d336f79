"""Addresses of sitters, of releases, and of the private page to sign."""

from django.urls import path

from jobs.releases import client_views, release_views, views

RELEASE = "releases/<int:release_id>"
USE = "releases/uses/<int:use_id>"

urlpatterns = [
    path("clients/<int:client_id>/sitters/new/", views.sitter_new, name="sitter_new"),
    path("sitters/<int:sitter_id>/", views.sitter, name="sitter"),
    path("sitters/<int:sitter_id>/edit/", views.sitter_edit, name="sitter_edit"),
    path("sitters/<int:sitter_id>/release/", views.release_new, name="release_new"),
    path(f"{RELEASE}/", release_views.release, name="release"),
    path(f"{RELEASE}/pdf/", release_views.release_pdf, name="release_pdf"),
    path(f"{RELEASE}/scan/", release_views.release_scan, name="release_scan"),
    path(f"{RELEASE}/send/", release_views.release_send, name="release_send"),
    path(f"{RELEASE}/paper/", release_views.release_paper, name="release_paper"),
    path(f"{USE}/withdraw/", release_views.use_withdraw, name="use_withdraw"),
    path(f"{USE}/pictures/", release_views.picture_use, name="picture_use"),
    path(
        "releases/pictures/<int:picture_use_id>/removed/",
        release_views.picture_removed,
        name="picture_removed",
    ),
    path("p/release/<str:token>/", client_views.sign, name="release_sign"),
    path(
        "p/release/<str:token>/back/", client_views.take_back, name="release_take_back"
    ),
]
