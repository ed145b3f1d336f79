"""What working time shows on the job's page."""

from __future__ import annotations

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.hours.queries import work_on
from jobs.jobs.models import Job
from studio.http import StaffRequest
from studio.panels import draw_panels, show_on


@show_on("job.side", action="job.edit", order=80)
def time_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show the time worked on the job, and what that paid an hour."""
    work = work_on(job, person=request.user)
    context = {
        "job": job,
        "work": work,
        "pay": draw_panels("job.hours", request, work),
    }
    return render_to_string("jobs/hours/_panel.html", context, request)
