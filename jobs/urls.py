"""The addresses of this app's pages."""

from django.urls import URLPattern, URLResolver

from jobs.attending import urls as attending
from jobs.away import urls as away
from jobs.bookings import urls as bookings
from jobs.calendars import urls as calendars
from jobs.clients import urls as clients
from jobs.diary import urls as diary
from jobs.enquiries import urls as enquiries
from jobs.hours import urls as hours
from jobs.jobs import urls as jobs
from jobs.kits import urls as kits
from jobs.letters import urls as letters
from jobs.places import urls as places
from jobs.releases import urls as releases
from jobs.returns import urls as returns
from jobs.slotdays import urls as slotdays
from jobs.ways import urls as ways

app_name = "jobs"

urlpatterns: list[URLPattern | URLResolver] = [
    *jobs.urlpatterns,
    *enquiries.urlpatterns,
    *bookings.urlpatterns,
    *attending.urlpatterns,
    *diary.urlpatterns,
    *away.urlpatterns,
    *hours.urlpatterns,
    *ways.urlpatterns,
    *calendars.urlpatterns,
    *clients.urlpatterns,
    *releases.urlpatterns,
    *places.urlpatterns,
    *kits.urlpatterns,
    *letters.urlpatterns,
    *returns.urlpatterns,
    *slotdays.urlpatterns,
]
