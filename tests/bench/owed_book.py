"""A book of very many invoices, lines and payments, and ways to age it."""

# ruff: noqa: S608 - names and numbers of this file alone

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from django.db import connection, models

from invoicing.invoices.late import LAST_DAYS, bucket_of
from invoicing.invoices.models import Invoice
from invoicing.invoices.queries import open_shares
from invoicing.owed.aged import ages_on
from invoicing.payments.models import Allocation
from invoicing.payments.operations import record_payment
from tests.bench.finding import analyse
from tests.make import NOON, make_client, make_person
from tests.make_invoicing import TODAY, make_invoice, make_received

LINES_EACH: Final = 4
OPEN_EACH: Final = 50
"""One invoice in so many is open, and half of those are paid in part."""
CLIENTS: Final = 400
LINE: Final = "(quantity_thousandths * price_minor + 500) / 1000"
"""What a line comes to, rounded half up; `/` leaves no fraction of integers."""
CENT: Final = Decimal("0.01")
Sums = list[int]


def fill(*, lines: int) -> None:
    """Write invoices of four lines each, all but one in fifty paid."""
    first, by = make_invoice(), make_person()
    money = make_received(first.gross_minor)
    paid = record_payment(
        money=money, shares={first.pk: first.gross_minor}, by=by, at=NOON
    ).payment
    base = max(make_client(f"Client {n}").pk for n in range(CLIENTS)) - CLIENTS + 1
    count = lines // LINES_EACH
    with connection.cursor() as cursor:
        cursor.execute(
            "CREATE TABLE bench_line "
            "(invoice_id bigint, quantity_thousandths bigint, price_minor bigint)"
        )
        cursor.execute(
            f"{_numbers(lines)} INSERT INTO bench_line "
            f"SELECT {first.pk} + 1 + (n - 1) / {LINES_EACH}, "
            "250 * (1 + n % 12), 1000 + (n * 7919) % 90000 FROM numbers"
        )
        cursor.execute("CREATE INDEX bench_line_of ON bench_line (invoice_id)")
    of_invoice = (
        f"(SELECT SUM({LINE}) FROM bench_line WHERE invoice_id = {first.pk} + n)"
    )
    client, due = f"{base} + n % {CLIENTS}", _day(f"n / {OPEN_EACH} % 150 - 20")
    _copy(
        first,
        count,
        id=f"{first.pk} + n",
        client_id=client,
        draft_id="NULL",
        number="'X-' || n",
        year="2020",
        place="n",
        chain_sequence="n + 1000",
        due_on=due,
        net_minor=of_invoice,
        tax_minor="0",
        gross_minor=of_invoice,
    )
    _copy(
        paid,
        count,
        id=f"{paid.pk} + n",
        client_id=client,
        form_key="'bench-' || n",
        amount_minor=_paid(of_invoice),
    )
    _copy(
        paid.allocations.get(),
        count,
        where=f"n % {2 * OPEN_EACH} <> 0",
        id=f"{paid.allocations.get().pk} + n",
        invoice_id=f"{first.pk} + n",
        payment_id=f"{paid.pk} + n",
        amount_minor=_paid(of_invoice),
    )
    analyse()


def _paid(gross: str) -> str:
    return f"CASE WHEN n % {OPEN_EACH} = 0 THEN {gross} / 3 ELSE {gross} END"


def _numbers(count: int) -> str:
    return (
        "WITH RECURSIVE numbers(n) AS (SELECT CAST(1 AS bigint) UNION ALL "
        f"SELECT n + 1 FROM numbers WHERE n < {count})"
    )


def _day(back: str) -> str:
    """Return the day so many days before today, in SQL."""
    if connection.vendor == "sqlite":
        return f"date('{TODAY}', (-({back})) || ' days')"
    return f"DATE '{TODAY}' - CAST({back} AS integer)"


def _copy(row: models.Model, count: int, *, where: str = "1 = 1", **other: str) -> None:
    """Copy a row many times, with other columns by expressions of `n`."""
    meta = row._meta
    columns = [str(field.column) for field in meta.concrete_fields]
    values = [other.get(name, f'base."{name}"') for name in columns]
    names = ", ".join(f'"{name}"' for name in columns)
    with connection.cursor() as cursor:
        cursor.execute(
            f"{_numbers(count)} INSERT INTO {meta.db_table} ({names}) "
            f"SELECT {', '.join(values)} FROM {meta.db_table} base, numbers "
            f"WHERE base.id = {row.pk} AND {where}"
        )


def by_balances() -> Sums:
    """Age by the balances that are kept, as the page of money does."""
    sums = [0] * (len(LAST_DAYS) + 1)
    for share in open_shares():
        sums[bucket_of((TODAY - share.due_on).days)] += share.minor
    return sums


def by_client() -> Sums:
    """Age client by client, as the page of what is owed does."""
    clients = ages_on("GBP", TODAY)
    return [sum(one.buckets[age] for one in clients) for age in range(5)]


def by_open_lines_in_sql() -> Sums:
    """Age the invoices that the balances say are open from their lines, in SQL."""
    return _aged_in_sql(
        "SELECT kept.due_on AS due_on, "
        f"(SELECT SUM({LINE}) FROM bench_line line "
        "WHERE line.invoice_id = kept.invoice_id) AS invoiced, "
        "COALESCE((SELECT SUM(amount_minor) FROM invoicing_allocation share "
        "WHERE share.invoice_id = kept.invoice_id), 0) AS paid "
        "FROM invoicing_invoicebalance kept WHERE kept.open_minor > 0"
    )


def by_lines_in_sql() -> Sums:
    """Age all invoices from their lines in SQL, as without any balance kept."""
    return _aged_in_sql(
        "SELECT paper.due_on AS due_on, line.invoiced AS invoiced, "
        "COALESCE(share.paid, 0) AS paid FROM invoicing_invoice paper "
        f"JOIN (SELECT invoice_id, SUM({LINE}) AS invoiced FROM bench_line "
        "GROUP BY invoice_id) line ON line.invoice_id = paper.id "
        "LEFT JOIN (SELECT invoice_id, SUM(amount_minor) AS paid "
        "FROM invoicing_allocation GROUP BY invoice_id) share "
        "ON share.invoice_id = paper.id"
    )


def _aged_in_sql(each: str) -> Sums:
    """Sum what is left of each invoice by age: its due day, what was invoiced, paid."""
    late = " ".join(
        f"WHEN due_on >= {_day(str(days))} THEN {age}"
        for age, days in enumerate(LAST_DAYS)
    )
    sums = [0] * (len(LAST_DAYS) + 1)
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT CASE {late} ELSE {len(LAST_DAYS)} END AS age, "
            f"SUM(invoiced - paid) FROM ({each}) AS each_one GROUP BY age"
        )
        for age, minor in cursor.fetchall():
            sums[age] = int(minor)
    return sums


class DecimalLoop:
    """Age every line in a loop over decimals, as a first draft of such a page would."""

    def __init__(self) -> None:
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT invoice_id, quantity_thousandths, price_minor FROM bench_line"
            )
            rows = cursor.fetchall()
        self.lines = [
            (key, Decimal(quantity) / 1000, Decimal(minor) / 100)
            for key, quantity, minor in rows
        ]
        shares = Allocation.objects.values_list("invoice_id", "amount_minor")
        self.paid = {key: Decimal(minor) / 100 for key, minor in shares}
        dues = Invoice.objects.values_list("pk", "due_on")
        self.late = {key: (TODAY - due_on).days for key, due_on in dues}

    def __call__(self) -> Sums:
        """Return the sums by age."""
        left: dict[int, Decimal] = {}
        for key, quantity, price in self.lines:
            amount = (quantity * price).quantize(CENT, ROUND_HALF_UP)
            left[key] = left.get(key, Decimal(0)) + amount
        sums = [Decimal(0)] * (len(LAST_DAYS) + 1)
        for key, amount in left.items():
            if still := amount - self.paid.get(key, 0):
                sums[bucket_of(self.late[key])] += still
        return [int(100 * minor) for minor in sums]
