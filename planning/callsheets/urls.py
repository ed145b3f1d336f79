"""Addresses of the call sheet's pages and papers."""

from django.urls import path

from planning.callsheets import views

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
]
