"""Django's command line for this project."""

import os
import sys

from studio.sqlite import use_newer_sqlite

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    use_newer_sqlite()
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
