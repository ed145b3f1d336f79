"""What leads to the finder from other pages."""

from datetime import date

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.bookings.shared import session_on
from jobs.jobs.models import Job
from jobs.jobs.queries import sitting_of
from jobs.places.models import Place
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("place.acts", action="finder.use", order=20)
def place_button(request: StaffRequest, place: Place) -> SafeString | str:
    """Lead from a place to a search there."""
    return _button(request, f"place={place.pk}")


@show_on("diary.acts", action="finder.use", order=20)
def diary_button(request: StaffRequest, on: date) -> SafeString | str:
    """Lead from the diary to a search."""
    return _button(request, "", is_slim=True)


@show_on("job.acts", action="finder.use", order=15)
def job_button(request: StaffRequest, job: Job) -> SafeString | str:
    """Lead from a job that holds no session yet to a search for it."""
    booking = session_on(request, job)
    has_time = booking.is_holding if booking else sitting_of(job) is not None
    if not job.is_open or has_time:
        return ""
    return _button(request, f"job={job.pk}")


def _button(request: StaffRequest, query: str, *, is_slim: bool = False) -> SafeString:
    context = {"query": query, "is_slim": is_slim}
    return render_to_string("planning/finder/_act.html", context, request)
