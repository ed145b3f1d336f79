"""Whether a database holds anybody's work."""

from django.db import connection

from studio.history.models import JournalEntry
from studio.people.models import Person
from studio.profile.models import StudioProfile


def has_tables() -> bool:
    """Say whether the database has been set up at all."""
    return Person._meta.db_table in connection.introspection.table_names()


def holds_work() -> bool:
    """Say whether somebody has worked here: anything beyond a person never seen.

    An owner whom the first start made, and who never signed in, is no work yet.
    """
    if not has_tables():
        return False
    return (
        JournalEntry.objects.exists()
        or StudioProfile.objects.filter(set_up_at__isnull=False).exists()
        or Person.objects.filter(last_login__isnull=False).exists()
        or Person.objects.count() > 1
    )
