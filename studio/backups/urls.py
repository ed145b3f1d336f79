"""The addresses of the studio's copies."""

from django.urls import path

from studio.backups import views

urlpatterns = [
    path("backup/", views.backup, name="backup"),
    path("backup/now/", views.backup_now, name="backup_now"),
]
