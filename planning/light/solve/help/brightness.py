"""What helps where there is too much light for the aim, the shutter or the sync."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from planning.light.solve.answers import RemedyName
from planning.light.solve.help.offers import Case, Offer, filtered, relit
from planning.light.solve.requests import SetUpRequest
from planning.light.solve.words import stops_text

USUAL_ENTRY_LOSS_STOPS = 1.5  # common practice: 1 to 2


def nd_filter(case: Case) -> Iterator[Offer]:
    """Offer a neutral filter in whole stops, as dense as it takes."""
    if case.thirds <= 0 or case.thirds > 30:
        return
    thirds = case.enough(lambda n: filtered(ceil(n / 3.0)))
    stops = float(ceil(thirds / 3.0))
    yield Offer(
        name=RemedyName.ND_FILTER,
        sentence=f"An ND {0.3 * stops:.1f} filter takes {stops_text(stops)}.",
        stops=stops,
        change=filtered(stops),
    )


def darker_light(case: Case) -> Iterator[Offer]:
    """Offer shade or a later hour, as dark as it takes."""
    if case.request.light is None or case.thirds > 30:
        return
    stops = case.enough(lambda n: relit(-n / 3.0)) / 3.0
    yield Offer(
        name=RemedyName.DARKER_LIGHT,
        sentence=f"Shade or a later hour, {stops_text(stops)} darker.",
        stops=stops,
        change=relit(-stops),
    )


def high_speed_sync(case: Case) -> Iterator[Offer]:
    """Offer high-speed sync, with the usual loss, where it makes the set-up fit."""
    flash = case.request.flash
    if flash is None or flash.high_speed_entry_stops is not None:
        return

    def change(request: SetUpRequest) -> SetUpRequest:
        if request.flash is None:
            return request
        quick = replace(request.flash, entry_loss_stops=USUAL_ENTRY_LOSS_STOPS)
        return replace(request, flash=quick)

    if case.fits(change(case.request)):
        yield Offer(
            name=RemedyName.HIGH_SPEED_SYNC,
            sentence="High-speed sync, if the flash has it: it costs "
            f"{stops_text(USUAL_ENTRY_LOSS_STOPS)} at once (measure yours).",
            stops=case.broken.short_stops,
            change=change,
        )
