"""The web application, for a WSGI server."""

import os

from studio.sqlite import use_newer_sqlite

use_newer_sqlite()
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")

from django.core.wsgi import get_wsgi_application  # noqa: E402

application = get_wsgi_application()
