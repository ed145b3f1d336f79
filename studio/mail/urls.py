"""The addresses of the outbox."""

from django.urls import path

from studio.mail import views

urlpatterns = [
    path("mail/", views.mail, name="mail"),
    path("mail/<int:message_id>/", views.message, name="message"),
    path("mail/<int:message_id>/again/", views.message_again, name="message_again"),
    path(
        "mail/<int:message_id>/arrived/", views.message_arrived, name="message_arrived"
    ),
]
