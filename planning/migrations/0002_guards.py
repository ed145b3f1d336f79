"""A call sheet that was made is never rewritten."""

from django.db import migrations

from planning.callsheets.models import CALL_SHEET_GUARD
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    dependencies = [("planning", "0001_initial"), ("studio", "0002_guards")]

    operations = [InstallGuard(CALL_SHEET_GUARD)]
