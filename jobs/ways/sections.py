"""How fast ways are taken to be, in Settings."""

from jobs.ways.forms import TravelForm
from studio.profile.models import StudioProfile
from studio.profile.sections import profile_section


def told_of_travel(profile: StudioProfile) -> str:
    """Return what ways are estimated by."""
    return f"Ways that nobody timed: {profile.travel_kmh} km/h by road"


profile_section(
    TravelForm,
    slug="travel",
    name="Ways between places",
    hint="How fast you get from one session to the next",
    order=52,
    told=told_of_travel,
)
