"""How passwords are kept."""

from django.contrib.auth.hashers import Argon2PasswordHasher


class ModestArgon2(Argon2PasswordHasher):
    """Argon2id at the size that OWASP's cheat sheet calls the least.

    Django's own default takes 100 MiB for each sign-in, too much for a small host.
    """

    time_cost = 2
    memory_cost = 19_456
    parallelism = 1
