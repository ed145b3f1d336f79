"""Addresses of quotes: the studio's pages and the client's private page."""

from django.urls import path

from invoicing.quotes import builder_views, client_views, follow_views, views

urlpatterns = [
    path("quotes/for/<int:job_id>/", builder_views.quote_start, name="quote_start"),
    path(
        "quotes/for/<int:job_id>/totals/",
        builder_views.quote_preview,
        name="quote_preview",
    ),
    path("quotes/", follow_views.quotes, name="quotes"),
    path(
        "quotes/<int:quote_id>/remind/",
        follow_views.quote_remind,
        name="quote_remind",
    ),
    path("quotes/<int:quote_id>/", views.quote, name="quote"),
    path("quotes/<int:quote_id>/pdf/", views.quote_pdf, name="quote_pdf"),
    path("quotes/<int:quote_id>/send/", views.quote_send, name="quote_send"),
    path("quotes/<int:quote_id>/version/", views.quote_version, name="quote_version"),
    path("quotes/<int:quote_id>/yes/", views.quote_yes, name="quote_yes"),
    path("quotes/<int:quote_id>/yes/scan/", views.quote_scan, name="quote_scan"),
    path("quotes/<int:quote_id>/declined/", views.quote_decline, name="quote_decline"),
    path(
        "quotes/questions/<int:question_id>/answered/",
        views.question_answered,
        name="question_answered",
    ),
    path("p/quote/<str:token>/", client_views.client_quote, name="client_quote"),
    path("p/quote/<str:token>/price/", client_views.client_price, name="client_price"),
    path("p/quote/<str:token>/terms/", client_views.client_terms, name="client_terms"),
    path("p/quote/<str:token>/pdf/", client_views.client_pdf, name="client_pdf"),
    path(
        "p/quote/<str:token>/question/",
        client_views.client_question,
        name="client_question",
    ),
    path(
        "p/quote/<str:token>/decline/",
        client_views.client_decline,
        name="client_decline",
    ),
    path(
        "p/quote/<str:token>/showing/",
        client_views.client_showing,
        name="client_showing",
    ),
    path(
        "p/quote/<str:token>/calendar/",
        client_views.client_calendar,
        name="client_calendar",
    ),
]
