"""What the job's page shows of the other sky."""

from __future__ import annotations

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from jobs.jobs.models import Job
from planning.shoots.panels import shoot_of
from planning.shoots.queries import fallbacks
from planning.shoots.words import short_settings
from studio.http import StaffRequest
from studio.panels import show_on


@show_on("job.side", action="plan.see", order=25)
def other_sky_panel(request: StaffRequest, job: Job) -> SafeString | str:
    """Show what the set-ups of the job's session come to under the other sky."""
    shoot = shoot_of(request, job)
    if shoot is None or not shoot.set_ups:
        return ""
    others = fallbacks(shoot)
    context = {
        "booking": {"pk": shoot.booking_id},
        "sky_words": others[0].sky_words,
        "fallbacks": [
            (one, short_settings(one.suggestion) if one.suggestion else "–")
            for one in others
        ],
    }
    return render_to_string("planning/what_ifs/_panel.html", context, request)
