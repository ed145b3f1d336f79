"""What a release says, in plain words, as it is put to whoever signs it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final

from jobs.releases.models import Sitter, Use
from studio.profile.models import StudioProfile
from studio.wording import long_date

CAUTION: Final = (
    "What a release must say, who may sign for a child and how it is taken back "
    "differ from place to place. This text is a start and no legal advice: have it "
    "looked at by somebody who knows the law where you work."
)


def release_words(
    sitter: Sitter, uses: Iterable[Use], until_on: date | None, limits: str
) -> str:
    """Return the text of a release."""
    studio = StudioProfile.load()
    who = f"{sitter.name}, for whom I decide," if sitter.is_child else "me"
    until = f"until {long_date(until_on)}" if until_on else "until I take it back"
    allowed = "\n".join(f"- {use.label}" for use in uses)
    parts = [
        f"I allow {studio.trading_name} to use pictures of {who} {until}, for:\n"
        f"{allowed}",
        "Anything else needs a new yes.",
    ]
    if limits:
        parts.append(f"Limits: {limits}")
    parts += [
        "I may take this back at any time, for each use by itself. From then on the "
        "pictures go nowhere new, and I am told where they already are; what is "
        "printed cannot be called back.",
        "I sign of my own will, and not signing has no bearing on the session.",
    ]
    if sitter.is_child:
        parts.append("I am the parent or guardian, and I may sign for this child.")
    return "\n\n".join(parts)
