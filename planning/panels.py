"""What this app shows on pages of others; importing registers it."""

from planning.callsheets import panels as callsheets_panels
from planning.callsheets import touched as callsheets_touched
from planning.checklists import panels as checklists_panels
from planning.finder import panels as finder_panels
from planning.location import panels as location_panels
from planning.readings import panels as readings_panels
from planning.shoots import panels as shoots_panels
from planning.shoots import touched as shoots_touched
from planning.sites import panels as sites_panels
from planning.what_ifs import panels as what_ifs_panels

__all__ = [
    "callsheets_panels",
    "callsheets_touched",
    "checklists_panels",
    "finder_panels",
    "location_panels",
    "readings_panels",
    "shoots_panels",
    "shoots_touched",
    "sites_panels",
    "what_ifs_panels",
]
