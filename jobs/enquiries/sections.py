"""The switch of the public form, and the texts of answers, in Settings."""

from jobs.enquiries.forms import EnquiriesForm
from studio.profile.models import StudioProfile
from studio.profile.sections import profile_section


def told_of_enquiries(profile: StudioProfile) -> str:
    """Return whether the form is open, and whether there is a price guide."""
    form = "The form is open" if profile.enquiry_form_open else "The form is closed"
    guide = "with" if profile.guide_words else "without"
    return f"{form}, answers start {guide} a price guide"


profile_section(
    EnquiriesForm,
    slug="enquiries",
    name="Enquiries",
    hint="The public form, and the price guide that answers start from",
    order=55,
    told=told_of_enquiries,
)
