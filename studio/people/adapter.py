"""How sign-in differs from the library's own: nobody signs up."""

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class ClosedAccountAdapter(DefaultAccountAdapter):  # type: ignore[misc]
    """Accounts are made by the owner; the sign-up page is closed."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Say that sign-up is closed."""
        return False
