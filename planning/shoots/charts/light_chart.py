"""Light level against clock time, with the set-ups on it."""

from __future__ import annotations

from planning.shoots.cautions import lost_words
from planning.shoots.charts.backdrop import Backdrop
from planning.shoots.charts.curves import Curves
from planning.shoots.charts.frame import ChartLook, Frame
from planning.shoots.charts.marks import Marks
from planning.shoots.planned import PlannedShoot
from studio.scene.drawing import Drawing

__all__ = ["ChartLook", "light_chart"]

WIDE = ChartLook()


def light_chart(shoot: PlannedShoot, look: ChartLook = WIDE) -> Drawing:
    """Draw a plan's light chart, a little wider than the session itself."""
    frame = Frame(shoot, look)
    return Drawing(
        width=look.width,
        height=frame.height,
        ops=(*Backdrop(frame).ops(), *Curves(frame).ops(), *Marks(frame).ops()),
        title="Light level through the session",
        description=_words(shoot, frame),
    )


def _words(shoot: PlannedShoot, frame: Frame) -> str:
    said = [
        f"Set-up {one.facts.number}, {one.facts.name}, "
        f"{frame.clock(one.facts.starts_at)} to {frame.clock(one.facts.ends_at)}: "
        f"EV {one.start.exposure_value:.1f} to {one.end.exposure_value:.1f}"
        for one in shoot.set_ups
    ]
    if shoot.lost:
        said.append(f"Sun lost {lost_words(shoot.lost, frame.zone)}")
    return ". ".join(said) + "." if said else "No set-ups yet."
