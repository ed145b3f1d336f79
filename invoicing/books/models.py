"""The account codes that a studio, or its bookkeeper, would rather use."""

from __future__ import annotations

from django.db import models

from invoicing.books.accounts import FIRST_CODES, Account


class AccountCode(models.Model):
    """The code of one account in the journal, where it is not the usual one."""

    account = models.CharField(max_length=12, choices=Account, unique=True)
    code = models.CharField(max_length=12)

    def __str__(self) -> str:
        return f"{self.code} {self.get_account_display()}"


def account_codes() -> dict[str, str]:
    """Return the code of every account."""
    own = dict(AccountCode.objects.values_list("account", "code"))
    return FIRST_CODES | own
