"""Django's command line for this project."""

import gc
import os
import sys

from studio.sqlite import use_newer_sqlite

YOUNG_OBJECTS = 50_000
"""After how many new objects garbage is looked for: what is loaded at the start stays,
and looking through it again and again took a sixth of the start."""

if __name__ == "__main__":
    gc.set_threshold(YOUNG_OBJECTS, 20, 20)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    use_newer_sqlite()
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)
