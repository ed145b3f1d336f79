"""A quote as it is printed, from its frozen snapshot: every figure as text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from invoicing.invoices.content import Content, ContentLine
from invoicing.invoices.snapshots import seller_foot, seller_lines
from jobs.diary.daylight import Booked, Spot, events_on, strip_on
from studio.money import Money
from studio.scene.day_strip import StripLook
from studio.scene.drawing import Drawing
from studio.wording import long_date, money_words, plain_number

PAPER_STRIP = StripLook(width=476.0, height=17.0, hours=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedLine:
    """One line of a quote in words."""

    title: str
    detail: str
    quantity: str
    price: str
    amount: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedExtra:
    """One extra that the client may tick."""

    line: int
    title: str
    detail: str
    price: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedSession:
    """When and where, and the light of that day."""

    day: str
    clock: str
    place: str
    place_detail: str
    light: str
    note: str
    share: float
    strip: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedQuote:
    """All that a quote says."""

    number: str
    version: int
    seller_name: str
    seller_lines: tuple[str, ...]
    buyer_lines: tuple[str, ...]
    title: str
    quoted_on: str
    valid_until: str
    opening_note: str
    session: QuotedSession | None
    lines: tuple[QuotedLine, ...]
    extras: tuple[QuotedExtra, ...]
    sums: tuple[tuple[str, str], ...]
    total: str
    tax_sentence: str
    deposit: str
    rest: str
    deposit_words: str
    rest_words: str
    included: tuple[str, ...]
    moving: str
    weather: str
    withdrawal: str
    terms: str
    pictures_by: str
    foot: str


def printed_quote(
    snapshot: Mapping[str, Any], *, sent_on: date | None = None
) -> PrintedQuote:
    """Return what a quote says, from its frozen snapshot alone."""
    content = Content.from_json(snapshot["content"])
    seller, totals = snapshot["seller"], snapshot["totals"]
    currency = content.currency
    total = Money.from_minor(snapshot["total_minor"], currency)
    deposit = Money.from_minor(snapshot["deposit_minor"], currency)
    until = date.fromisoformat(snapshot["valid_until_on"])
    buyer = snapshot["buyer"]
    return PrintedQuote(
        number=snapshot["number"],
        version=snapshot["version"],
        seller_name=seller["trading_name"] or seller["owner_name"],
        seller_lines=seller_lines(seller),
        buyer_lines=tuple(
            line
            for line in (
                buyer["name"],
                buyer["contact_name"],
                *buyer["address"].splitlines(),
            )
            if line.strip()
        ),
        title=snapshot["title"],
        quoted_on=long_date(sent_on) if sent_on else "",
        valid_until=long_date(until),
        opening_note=snapshot["opening_note"],
        session=_session(snapshot["session"]),
        lines=_lines(content),
        extras=_extras(snapshot, currency),
        sums=sums_of(content, totals, seller),
        total=money_words(total),
        tax_sentence=_tax_sentence(content, totals, seller),
        deposit=money_words(deposit) if deposit.minor else "",
        rest=money_words(total - deposit),
        deposit_words=_deposit_words(snapshot, deposit),
        rest_words=_rest_words(snapshot, total - deposit, bool(deposit.minor)),
        included=tuple(snapshot["included"]),
        moving=snapshot["moving_words"],
        weather=snapshot["weather_words"],
        withdrawal=snapshot["withdrawal_words"],
        terms=snapshot["terms"],
        pictures_by=_day_or_nothing(snapshot["pictures_by_on"]),
        foot=seller_foot(seller),
    )


def sums_of(
    content: Content, totals: Mapping[str, Any], seller: Mapping[str, Any]
) -> tuple[tuple[str, str], ...]:
    """Return the sums above the total: discount, and the tax where it is apart."""
    currency = content.currency
    rows: list[tuple[str, str]] = []
    discount = Decimal(totals["allowance_total"])
    if discount:
        rows.append(("Discount", f"−{money_words(Money(discount, currency))}"))
    if seller["tax_registered"] and content.price_basis == "net":
        name = seller["tax_name"]
        net = Money(Decimal(totals["net"]), currency)
        rows.append((f"Before {name}", money_words(net)))
        for row in totals["breakdown"]:
            rate = plain_number(Decimal(row["rate"]))
            tax = money_words(Money(Decimal(row["tax"]), currency))
            rows.append((f"{name} at {rate}%", tax))
    return tuple(rows)


def _tax_sentence(
    content: Content, totals: Mapping[str, Any], seller: Mapping[str, Any]
) -> str:
    if not seller["tax_registered"] or content.price_basis == "net":
        return ""
    tax = money_words(Money(Decimal(totals["tax"]), content.currency))
    return f"{seller['tax_name']} of {tax} is in it. Nothing comes on top."


def _lines(content: Content) -> tuple[QuotedLine, ...]:
    nets = content.full_totals().line_nets
    return tuple(
        QuotedLine(
            title=line.description,
            detail=line.detail,
            quantity=f"{plain_number(line.quantity)} {line.unit}".strip(),
            price=_minor(line.unit_price_minor, content.currency),
            amount=money_words(Money(net, content.currency)),
        )
        for line, net in zip(content.lines, nets, strict=True)
    )


def _extras(snapshot: Mapping[str, Any], currency: str) -> tuple[QuotedExtra, ...]:
    fields = ContentLine.__dataclass_fields__
    extras = []
    for written in snapshot["extras"]:
        line = ContentLine(**{name: written[name] for name in fields})
        alone = Content(
            currency=currency,
            price_basis=snapshot["content"]["price_basis"],
            lines=(line,),
        )
        extras.append(
            QuotedExtra(
                line=written["line"],
                title=line.description,
                detail=line.detail,
                price=money_words(Money(alone.totals().line_total, currency)),
            )
        )
    return tuple(extras)


def _session(written: Mapping[str, Any] | None) -> QuotedSession | None:
    if written is None:
        return None
    zone = ZoneInfo(written["time_zone"])
    start = datetime.fromisoformat(written["starts_at"]).astimezone(zone)
    end = datetime.fromisoformat(written["ends_at"]).astimezone(zone)
    spot = Spot(
        latitude_deg=written["latitude_deg"],
        longitude_deg=written["longitude_deg"],
        time_zone=written["time_zone"],
    )
    booked = [Booked(starts_at=start, ends_at=end)]
    strip = strip_on(spot, start.date(), booked=booked, look=PAPER_STRIP)
    minute = (start.hour * 60 + start.minute) / 1440.0
    until = f"{end:%H:%M}"
    if end.date() != start.date():
        until += f" on {end:%A}"
    return QuotedSession(
        day=long_date(start.date()),
        clock=f"{start:%H:%M}–{until}",
        place=written["place_name"],
        place_detail=". ".join(
            part.strip().rstrip(".")
            for part in (
                written["place_address"].replace("\n", ", "),
                written["meeting_point"] and f"Meet at {written['meeting_point']}",
            )
            if part
        ),
        light=_light_words(spot, start.date(), zone),
        note=_light_note(spot, start, end),
        share=minute,
        strip=strip,
    )


def _light_words(spot: Spot, on: date, zone: ZoneInfo) -> str:
    day = events_on(spot, on)
    if day.sunrise and day.sunset:
        rise, fall = day.sunrise.astimezone(zone), day.sunset.astimezone(zone)
        return f"Daylight {rise:%H:%M} to {fall:%H:%M}"
    return f"The sun is {day.sun_state} that day"


def _light_note(spot: Spot, start: datetime, end: datetime) -> str:
    day = events_on(spot, start.date())
    if day.sunset is None:
        return ""
    sunset = day.sunset.astimezone(start.tzinfo)
    if start < sunset < end:
        return (
            f"The sun sets at {sunset:%H:%M}, inside the session: the last part is "
            "dusk, and that is meant."
        )
    before = sunset - end
    if timedelta() <= before <= timedelta(minutes=90):
        minutes = int(before.total_seconds() // 60)
        return (
            f"The sun sets at {sunset:%H:%M}, {minutes} minutes after we end, so a "
            "prompt start matters. Under cloud the light is soft, and we carry on."
        )
    return ""


def _deposit_words(snapshot: Mapping[str, Any], deposit: Money) -> str:
    if not deposit.minor:
        return "Nothing is to be paid before the session. Your yes makes the date firm."
    days = snapshot["deposit_days"]
    return (
        f"{money_words(deposit)} makes the date firm. Your yes pencils it in; pay "
        f"within {days} days, quoting {snapshot['number']}. An invoice follows."
    )


def _rest_words(snapshot: Mapping[str, Any], rest: Money, has_deposit: bool) -> str:
    days = snapshot["payment_days"]
    what = "The rest" if has_deposit else "The price"
    return f"{what}, {money_words(rest)}, is due {days} days after its invoice."


def _day_or_nothing(written: str | None) -> str:
    return long_date(date.fromisoformat(written)) if written else ""


def _minor(minor: int, currency: str) -> str:
    return money_words(Money.from_minor(minor, currency))
