"""What pages and papers show of sitters and their releases."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from jobs.clients.models import Client
from jobs.releases.models import AllowedUse, Release, Sitter
from jobs.releases.printed import PrintedRelease
from jobs.releases.words import CAUTION
from studio.profile.models import StudioProfile
from studio.wording import day_year, long_date, phone_words


@dataclass(frozen=True, slots=True, kw_only=True)
class UseRow:
    """One use as it stands: in words, and with the kind of its mark."""

    allowed: AllowedUse
    kind: str
    words: str

    @property
    def is_standing(self) -> bool:
        """Whether pictures may be used like this now."""
        return self.kind == "done"


@dataclass(frozen=True, slots=True, kw_only=True)
class SitterRow:
    """A sitter as a client's page lists them."""

    sitter: Sitter
    uses: tuple[UseRow, ...]

    @property
    def allowed(self) -> list[str]:
        """What stands, in words."""
        return [row.allowed.get_use_display() for row in self.uses if row.is_standing]

    @property
    def waiting(self) -> int:
        """How many uses wait for a signature."""
        return sum(row.kind == "waiting" for row in self.uses)


def use_row(allowed: AllowedUse, *, on: date) -> UseRow:
    """Return a use as it stands on a day."""
    if allowed.withdrawn_at:
        kind, words = "off", f"Taken back {day_year(allowed.withdrawn_at)}"
    elif allowed.release.signed_at is None:
        kind, words = "waiting", "Not signed yet"
    elif allowed.until_on and allowed.until_on < on:
        kind, words = "off", f"Ended {day_year(allowed.until_on)}"
    else:
        until = f" until {day_year(allowed.until_on)}" if allowed.until_on else ""
        kind, words = "done", f"Allowed{until}"
    return UseRow(allowed=allowed, kind=kind, words=words)


def sitter_rows(client: Client, *, on: date) -> list[SitterRow]:
    """Return a client's sitters with what they allow. Three queries."""
    sitters = client.sitters.prefetch_related("releases__uses")
    return [
        SitterRow(sitter=sitter, uses=_uses(sitter.releases.all(), on))
        for sitter in sitters
    ]


def printed_release(release: Release) -> PrintedRelease:
    """Return a release as it is printed."""
    studio, sitter = StudioProfile.load(), release.sitter
    zone = studio.zone
    address = ", ".join(
        line.strip(" ,") for line in studio.address.splitlines() if line.strip()
    )
    contact = ", ".join(filter(None, [phone_words(studio.phone), studio.email]))
    signed = ""
    if release.signed_at:
        day = long_date(release.signed_at.astimezone(zone).date())
        how = release.get_how_display().lower()
        signed = f"Signed by {release.signed_by} on {day}, {how}."
    return PrintedRelease(
        studio_name=str(studio),
        studio_lines=tuple(filter(None, [address, contact])),
        number=release.pk,
        sitter=sitter.name,
        signer=sitter.signer,
        is_child=sitter.is_child,
        made=long_date(release.made_at.astimezone(zone).date()),
        words=release.words,
        signed=signed,
        caution=CAUTION,
    )


def _uses(releases: Iterable[Release], on: date) -> tuple[UseRow, ...]:
    rows = []
    for release in releases:
        for allowed in release.uses.all():
            allowed.release = release
            rows.append(use_row(allowed, on=on))
    return tuple(rows)
