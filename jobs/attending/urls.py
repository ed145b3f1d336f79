"""Addresses of the answers about who is coming, of groups, and of the client's page."""

from django.urls import path

from jobs.attending import client_views, group_views, views

ONE = "jobs/sessions/<int:booking_id>"
GROUP = "jobs/groups/<int:group_id>"

urlpatterns = [
    path(f"{ONE}/answers/", views.answers, name="answers"),
    path(f"{ONE}/answers/page/", views.answers_page_open, name="answers_page_open"),
    path(
        f"{ONE}/answers/page/close/",
        views.answers_page_close,
        name="answers_page_close",
    ),
    path(f"{ONE}/answers/erase/", views.answers_erase, name="answers_erase"),
    path(f"{ONE}/groups/", group_views.groups, name="groups"),
    path(f"{ONE}/groups/suggest/", group_views.groups_suggest, name="groups_suggest"),
    path(f"{GROUP}/", group_views.group, name="group"),
    path(f"{GROUP}/move/", group_views.group_move, name="group_move"),
    path(f"{GROUP}/remove/", group_views.group_remove, name="group_remove"),
    path("p/session/<str:token>/", client_views.your_session, name="your_session"),
]
