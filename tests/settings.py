"""Settings for tests: the real ones, quick to hash and with mail kept in memory."""

import atexit
import os
import shutil
import tempfile

if "NORTHSILL_VAR" not in os.environ:
    os.environ["NORTHSILL_VAR"] = tempfile.mkdtemp(prefix="northsill-tests-")
    atexit.register(shutil.rmtree, os.environ["NORTHSILL_VAR"], ignore_errors=True)

from studio.sqlite import use_newer_sqlite

use_newer_sqlite()

from studio.settings import *  # noqa: E402, F403

SECRET_KEY = "only-for-tests-and-long-enough-to-satisfy-the-checks-0123456789"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_AUTOREFRESH = True
ALLOWED_HOSTS = ["testserver", "127.0.0.1", "localhost"]
