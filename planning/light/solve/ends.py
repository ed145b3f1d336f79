"""How far the light may go either way, in words."""

from planning.light.solve.levels import brightest, darkest
from planning.light.solve.settled import Settled
from planning.light.solve.words import stops_text, value_text


def dark_end_text(settled: Settled) -> str:
    """Say where the shutter goes if the light is as low as it may be."""
    light = settled.scene.request.light
    if light is None:
        return "Flash alone: the light is the same from first frame to last."
    if settled.scene.flash_is_key:
        return "The flash holds the subject; only the background darkens."
    dark = darkest(light, settled.scene.request.light_end or light)
    shutter = settled.on_dial(settled.dark).nominal
    return f"At the dark end, {value_text(dark)}, it is {shutter}."


def bright_end_text(settled: Settled) -> str:
    """Say how far the bright end of the light goes, and what it runs into."""
    light = settled.scene.request.light
    if light is None:
        return "Flash alone: no brighter end."
    bright = brightest(light, settled.scene.request.light_end or light)
    if settled.scene.flash_is_key:
        more = stops_text(bright - light.exposure_value)
        return f"At the bright end, {value_text(bright)}, the background is {more} up."
    dials = settled.scene.dials
    shutter = settled.on_dial(settled.bright).nominal
    text = f"At the bright end, {value_text(bright)}, it is {shutter}"
    over = (settled.bright - dials.fastest) / 3.0
    if over > 0.0:
        return f"{text} and {stops_text(over)} too bright still: stop down."
    past = (settled.bright - dials.sync) / 3.0
    flashes = settled.scene.request.flash is not None and not settled.high_speed
    if flashes and past > 0.0:
        return f"{text}, {stops_text(past)} past flash sync: stop down."
    return f"{text}."
