"""The database refuses to hold one thing for two bookings at once."""

from django.db import migrations

from jobs.bookings.guards import RESERVATION_GUARD
from studio.guards import InstallGuard


class Migration(migrations.Migration):
    dependencies = [("jobs", "0001_initial")]

    operations = [InstallGuard(RESERVATION_GUARD)]
