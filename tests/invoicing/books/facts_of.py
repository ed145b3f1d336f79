"""Facts of an invented quarter, whose sums are worked by hand in the tests."""

from datetime import date

from invoicing.books.facts import Facts, PaperFact, PaymentFact, PurchaseFact, RateSum

JULY, AUGUST, OCTOBER = date(2026, 7, 10), date(2026, 8, 3), date(2026, 10, 12)
NOVEMBER = date(2026, 11, 2)
QUARTER = {"first": date(2026, 7, 1), "last": date(2026, 9, 30)}
NEXT = {"first": date(2026, 10, 1), "last": date(2026, 12, 31)}


def rate_sum(rate: int, taxable: int, tax: int) -> RateSum:
    return RateSum(
        category="S" if rate else "E",
        rate_basis_points=rate,
        taxable_minor=taxable,
        tax_minor=tax,
    )


INVOICE = PaperFact(
    pk=1,
    number="2026-0001",
    party="Brass band",
    tax_point_on=JULY,
    rows=(rate_sum(2000, 28_800, 5_760), rate_sum(1000, 7_990, 799)),
)
CREDIT = PaperFact(
    pk=2,
    number="CN-2026-001",
    party="Brass band",
    tax_point_on=AUGUST,
    rows=(rate_sum(2000, 10_000, 2_000),),
    corrects="2026-0001",
)
PART = PaymentFact(
    pk=1,
    party="Brass band",
    on=OCTOBER,
    amount_minor=30_000,
    method="TRANSFER",
    shares=(("2026-0001", 30_000),),
)
REST = PaymentFact(
    pk=2,
    party="Brass band",
    on=NOVEMBER,
    amount_minor=2_000,
    method="CASH",
    shares=(("2026-0001", 1_349),),
)
PRINTS = PurchaseFact(
    pk=1,
    supplier="Print house",
    kind="MATERIALS",
    bought_on=AUGUST,
    paid_on=OCTOBER,
    paid_from="BANK",
    net_minor=10_000,
    tax_minor=2_000,
    rate_basis_points=2000,
    private_minor=2_500,
    private_tax_minor=500,
)
FACTS = Facts(
    currency="GBP",
    papers=(INVOICE, CREDIT),
    payments=(PART, REST),
    purchases=(PRINTS,),
)
