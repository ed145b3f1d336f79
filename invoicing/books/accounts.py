"""The accounts that the books post to, each with a code that the studio may change."""

from __future__ import annotations

from typing import Final

from django.db import models


class Account(models.TextChoices):
    """What an account holds."""

    BANK = "BANK", "Bank"
    CARD = "CARD", "Card payments on their way"
    CASH = "CASH", "Cash"
    RECEIVABLE = "RECEIVABLE", "Owed by clients"
    ON_ACCOUNT = "ON_ACCOUNT", "Clients’ money without an invoice"
    VOUCHERS = "VOUCHERS", "Vouchers not redeemed yet"
    PAYABLE = "PAYABLE", "Owed to suppliers"
    OUTPUT_TAX = "OUTPUT_TAX", "Tax on sales"
    OUTPUT_HELD = "OUTPUT_HELD", "Tax on sales, due when they are paid"
    INPUT_TAX = "INPUT_TAX", "Tax on purchases"
    INPUT_HELD = "INPUT_HELD", "Tax on purchases, claimed when they are paid"
    DEPOSITS = "DEPOSITS", "Deposits and stages invoiced ahead"
    OWNER = "OWNER", "Owner’s own money"
    SALES = "SALES", "Sales"
    LOSSES = "LOSSES", "Debts written off"
    ROUNDING = "ROUNDING", "Cash rounding"
    MATERIALS = "MATERIALS", "Prints, albums, materials"
    ASSISTANT = "ASSISTANT", "Assistants and other help"
    TRAVEL = "TRAVEL", "Travel"
    MILEAGE = "MILEAGE", "Own car, by distance"
    EQUIPMENT = "EQUIPMENT", "Equipment and repairs"
    PREMISES = "PREMISES", "Rooms, rent, energy"
    INSURANCE = "INSURANCE", "Insurance"
    SOFTWARE = "SOFTWARE", "Software and subscriptions"
    ADVICE = "ADVICE", "Bookkeeping and advice"
    ADVERTISING = "ADVERTISING", "Advertising"
    BANK_FEES = "BANK_FEES", "Bank and card charges"
    OTHER = "OTHER", "Other costs"


FIRST_CODE: Final = {
    Account.BANK: 1200,
    Account.CARD: 1210,
    Account.CASH: 1220,
    Account.RECEIVABLE: 1100,
    Account.ON_ACCOUNT: 2120,
    Account.VOUCHERS: 2130,
    Account.PAYABLE: 2100,
    Account.OUTPUT_TAX: 2200,
    Account.OUTPUT_HELD: 2205,
    Account.INPUT_TAX: 2210,
    Account.INPUT_HELD: 2215,
    Account.DEPOSITS: 2110,
    Account.OWNER: 3000,
    Account.SALES: 4000,
    Account.LOSSES: 5900,
    Account.ROUNDING: 5910,
}
FIRST_COST: Final = 5000
METHODS: Final = {
    "TRANSFER": Account.BANK,
    "CHEQUE": Account.BANK,
    "CARD": Account.CARD,
    "CASH": Account.CASH,
    "VOUCHER": Account.VOUCHERS,
    "LOSS": Account.LOSSES,
}
COSTS: Final = tuple(account for account in Account if account not in FIRST_CODE)
FIRST_CODES: Final[dict[str, str]] = {
    **{account.value: str(code) for account, code in FIRST_CODE.items()},
    **{one.value: str(FIRST_COST + 10 * place) for place, one in enumerate(COSTS)},
}
