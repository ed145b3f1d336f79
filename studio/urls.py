"""The addresses of the whole site."""

from django.urls import include, path

from studio.backups.urls import urlpatterns as backups
from studio.health.views import healthz
from studio.imports.urls import urlpatterns as imports
from studio.mail.urls import urlpatterns as mail
from studio.people.urls import urlpatterns as people
from studio.profile.urls import urlpatterns as profile
from studio.today.views import home, search, today

foundation = [
    path("", home, name="home"),
    path("today/", today, name="today"),
    path("search/", search, name="search"),
    *mail,
    *backups,
    *people,
    *imports,
    *profile,
]

urlpatterns = [
    path("", include((foundation, "studio"))),
    path("", include("jobs.urls")),
    path("", include("planning.urls")),
    path("", include("invoicing.urls")),
    path("account/", include("allauth.urls")),
    path("healthz/", healthz, name="healthz"),
]
