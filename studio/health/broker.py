"""Whether the broker answers, where one is set."""

from importlib import import_module
from typing import Final

from django.conf import settings

PATIENCE_S: Final = 1.0


def broker_fault() -> str:
    """Return why the broker does not answer; nothing where it does.

    Asked once, with a short wait: the library's own retries take seconds. It is
    loaded here, for most studios have no broker.
    """
    redis, retry = import_module("redis"), import_module("redis.retry")
    once = retry.Retry(import_module("redis.backoff").NoBackoff(), 0)
    try:
        with redis.Redis.from_url(
            settings.REDIS_URL,
            socket_timeout=PATIENCE_S,
            socket_connect_timeout=PATIENCE_S,
            retry=once,
        ) as client:
            client.ping()
    except (redis.RedisError, ValueError) as fault:
        return str(fault) or type(fault).__name__
    return ""
