"""The addresses of this app's pages."""

from django.urls import URLPattern, URLResolver

from planning.callsheets import urls as callsheets
from planning.checklists import urls as checklists
from planning.days import urls as days
from planning.finder import urls as finder
from planning.location import urls as location
from planning.patterns import urls as patterns
from planning.readings import urls as readings
from planning.shifts import urls as shifts
from planning.shoots import urls as shoots
from planning.sites import urls as sites
from planning.weather import urls as weather
from planning.what_ifs import urls as what_ifs

app_name = "planning"

urlpatterns: list[URLPattern | URLResolver] = [
    *shoots.urlpatterns,
    *patterns.urlpatterns,
    *what_ifs.urlpatterns,
    *weather.urlpatterns,
    *sites.urlpatterns,
    *checklists.urlpatterns,
    *callsheets.urlpatterns,
    *days.urlpatterns,
    *finder.urlpatterns,
    *location.urlpatterns,
    *readings.urlpatterns,
    *shifts.urlpatterns,
]
