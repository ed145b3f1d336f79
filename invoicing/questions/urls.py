"""Addresses of questions about papers."""

from django.urls import path

from invoicing.questions import views

urlpatterns = [
    path("money/invoices/<int:invoice_id>/ask/", views.ask_invoice, name="ask_invoice"),
    path(
        "money/purchases/<int:purchase_id>/ask/",
        views.ask_purchase,
        name="ask_purchase",
    ),
    path(
        "money/questions/<int:question_id>/",
        views.question_answer,
        name="question_answer",
    ),
]
