"""Addresses of handing a pack out, and of a reader's private page."""

from django.urls import path

from invoicing.sharing import client_views, views

urlpatterns = [
    path("money/closed/<int:period_id>/share/", views.share_new, name="share_new"),
    path("money/shares/<int:share_id>/close/", views.share_close, name="share_close"),
    path("p/books/<str:token>/", client_views.pack_page, name="pack_page"),
    path("p/books/<str:token>/pack/", client_views.pack_fetch, name="pack_fetch"),
]
