"""Where Django looks for this app's tables; each lives with its aggregate."""

from planning.callsheets.models import CallSheet, SheetCopy, SheetReceiver
from planning.checklists.models import ChecklistItem
from planning.location.models import SessionTick
from planning.patterns.models import SavedSetUp
from planning.readings.models import Reading
from planning.shifts.models import LightShift
from planning.shoots.models import SetUp, ShootPlan
from planning.sites.models import Room, Site, SunMark, Window
from planning.weather.models import WeatherSeen

__all__ = [
    "CallSheet",
    "ChecklistItem",
    "LightShift",
    "Reading",
    "Room",
    "SavedSetUp",
    "SessionTick",
    "SetUp",
    "SheetCopy",
    "SheetReceiver",
    "ShootPlan",
    "Site",
    "SunMark",
    "WeatherSeen",
    "Window",
]
