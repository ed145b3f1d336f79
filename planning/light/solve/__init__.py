"""Settings for a set-up: what to dial in, what limits it, what gave way, what helps."""

from planning.light.solve.answers import (
    Dialled,
    ExposureMode,
    FlashSetting,
    GaveName,
    GaveWay,
    Limit,
    LimitName,
    Remedy,
    RemedyName,
    Suggestion,
)
from planning.light.solve.gear import Body, Flash, FlashMode, FlashPurpose, Lens
from planning.light.solve.requests import (
    Aim,
    Ambient,
    SetUpRequest,
    Subject,
    Support,
)
from planning.light.solve.suggesting import dialled, suggest

__all__ = [
    "Aim",
    "Ambient",
    "Body",
    "Dialled",
    "ExposureMode",
    "Flash",
    "FlashMode",
    "FlashPurpose",
    "FlashSetting",
    "GaveName",
    "GaveWay",
    "Lens",
    "Limit",
    "LimitName",
    "Remedy",
    "RemedyName",
    "SetUpRequest",
    "Subject",
    "Suggestion",
    "Support",
    "dialled",
    "suggest",
]
