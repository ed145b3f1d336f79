"""Guards of the foundation, and the table of the shared cache."""

from django.core.management import call_command
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

from studio.files.models import FILE_GUARD
from studio.guards import InstallGuard
from studio.history.models import JOURNAL_GUARD


def make_cache_table(apps: StateApps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    call_command(
        "createcachetable", database=schema_editor.connection.alias, verbosity=0
    )


class Migration(migrations.Migration):
    dependencies = [("studio", "0001_initial")]

    operations = [
        InstallGuard(JOURNAL_GUARD),
        InstallGuard(FILE_GUARD),
        migrations.RunPython(make_cache_table, migrations.RunPython.noop),
    ]
