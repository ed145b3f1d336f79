"""Settings: one file for every profile, read from the environment."""

from typing import Any

import font_source_sans_pro
from csp.constants import NONE, SELF

from studio.environment import BASE, SERVER, VAR, database, secret_key, text, words

BASE_DIR = BASE
SECRET_KEY = secret_key()
SECRET_KEY_FALLBACKS = words("SECRET_KEY_FALLBACKS")
DEBUG = False
ALLOWED_HOSTS = words("ALLOWED_HOSTS") or ["127.0.0.1", "localhost", "[::1]"]
CSRF_TRUSTED_ORIGINS = words("CSRF_TRUSTED_ORIGINS")
DATA_DIR = VAR

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.humanize",
    "django.contrib.messages",
    "django.forms",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "csp",
    "crispy_forms",
    "django_htmx",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "studio",
    "jobs",
    "planning",
    "invoicing",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "studio.http.AnswerHeaders",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "studio.people.middleware.SeenMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "studio.profile.middleware.ReadOnceMiddleware",
    "studio.people.middleware.SecondFactorMiddleware",
    "studio.profile.middleware.FirstRunMiddleware",
]

ROOT_URLCONF = "studio.urls"
WSGI_APPLICATION = "studio.wsgi.application"

TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "studio.context.page_frame",
            ],
        },
    },
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"
CRISPY_ALLOWED_TEMPLATE_PACKS = "northsill"
CRISPY_TEMPLATE_PACK = "northsill"
CRISPY_FAIL_SILENTLY = False

DATABASES = {"default": database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "studio_cache",
    }
}

AUTH_USER_MODEL = "studio.Person"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
PASSWORD_HASHERS = [
    "studio.people.hashers.ModestArgon2",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": (
            "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"
        )
    },
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "/"
ACCOUNT_ADAPTER = "studio.people.adapter.ClosedAccountAdapter"
ACCOUNT_LOGIN_METHODS = {"username", "email"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"
ACCOUNT_SESSION_REMEMBER = False
ACCOUNT_RATE_LIMITS = {
    "login": "30/m/ip",
    "login_failed": "10/m/ip,5/5m/key",
}
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes"]
MFA_TOTP_ISSUER = "Northsill"
USERSESSIONS_TRACK_ACTIVITY = True
SECOND_FACTOR_REQUIRED = SERVER

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "UTC"
USE_I18N = False
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT = VAR / "static"
STATICFILES_DIRS = [
    BASE / "studio" / "static",
    ("fonts", font_source_sans_pro.font_directory),
]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
MEDIA_ROOT = VAR / "media"

EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = text("MAIL_FROM", "studio@northsill.example")
EMAIL_HOST = text("SMTP_HOST")
EMAIL_PORT = int(text("SMTP_PORT", "587"))
EMAIL_HOST_USER = text("SMTP_USER")
EMAIL_HOST_PASSWORD = text("SMTP_PASSWORD")
EMAIL_USE_SSL = EMAIL_PORT == 465
EMAIL_USE_TLS = not EMAIL_USE_SSL and text("SMTP_STARTTLS", "yes") == "yes"
EMAIL_FILE_PATH = VAR / "mail"
EMAIL_BACKEND = (
    "studio.mail.smtp.SmtpBackend" if EMAIL_HOST else "studio.mail.folder.FolderBackend"
)

DATA_UPLOAD_MAX_MEMORY_SIZE = 1_048_576
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2_000
DATA_UPLOAD_MAX_NUMBER_FILES = 20
FILE_UPLOAD_MAX_MEMORY_SIZE = 2_621_440
FILE_UPLOAD_PERMISSIONS = 0o640
FILE_UPLOAD_HANDLERS = [
    "studio.files.uploads.CappedUpload",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]
UPLOAD_CAP_BYTES = 12 * 1_048_576

SESSION_COOKIE_AGE = 43_200
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CSRF_FAILURE_VIEW = "studio.http.csrf_failure"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
        "object-src": [NONE],
    }
}
if SERVER:
    SECURE_SSL_REDIRECT = True
    SECURE_REDIRECT_EXEMPT = [r"^healthz/$"]
    SECURE_HSTS_SECONDS = 31_536_000
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    SESSION_COOKIE_NAME = "__Host-sessionid"
    CSRF_COOKIE_NAME = "__Host-csrftoken"
    USE_X_FORWARDED_HOST = False

REDIS_URL = text("REDIS_URL")
CELERY_BROKER_URL = REDIS_URL or "memory://"
CELERY_TASK_SERIALIZER = CELERY_RESULT_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_TIME_LIMIT = 120
CELERY_WORKER_MAX_TASKS_PER_CHILD = 200
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_TRANSPORT_OPTIONS = {"socket_timeout": 1, "socket_connect_timeout": 1}
CELERY_TASK_ACKS_LATE = True

BACKUP_DIR = text("BACKUP_DIR")
FAULTPOINTS: frozenset[str] = frozenset()

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {"format": "{asctime} {levelname} {name} {message}", "style": "{"}
    },
    "filters": {"links": {"()": "studio.logs.HideLinks"}},
    "handlers": {
        "console": {
            "class": "logging.StreamHandler",
            "formatter": "line",
            "filters": ["links"],
        }
    },
    "root": {"handlers": ["console"], "level": "INFO"},
    "loggers": {
        "django.request": {"level": "ERROR"},
        "waitress.queue": {"level": "ERROR"},
    },
}
