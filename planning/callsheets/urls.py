"""Addresses of the call sheet's pages and papers."""

from django.urls import path

from planning.callsheets import client_views, views

urlpatterns = [
    path("plan/<int:booking_id>/call-sheet/", views.call_sheet, name="call_sheet"),
    path(
        "plan/<int:booking_id>/call-sheet/make/",
        views.call_sheet_make,
        name="call_sheet_make",
    ),
    path(
        "call-sheets/<int:call_sheet_id>/send/",
        views.call_sheet_send,
        name="call_sheet_send",
    ),
    path(
        "call-sheets/<int:call_sheet_id>/call-sheet.pdf",
        views.call_sheet_pdf,
        name="call_sheet_pdf",
    ),
    path(
        "call-sheets/<int:call_sheet_id>/your-session.pdf",
        views.session_pdf,
        name="session_pdf",
    ),
    path(
        "call-sheets/receivers/<int:receiver_id>/close/",
        views.receiver_close,
        name="receiver_close",
    ),
    path(
        "p/call-sheet/<str:token>/",
        client_views.sheet_of_receiver,
        name="sheet_of_receiver",
    ),
    path(
        "p/call-sheet/<str:token>/paper/",
        client_views.paper_of_receiver,
        name="paper_of_receiver",
    ),
]
