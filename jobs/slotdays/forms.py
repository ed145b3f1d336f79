"""The forms of a slot day: what is offered, who takes a time, and changes of it."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any, ClassVar, cast

from crispy_forms.helper import FormHelper
from django import forms

from jobs.bookings.models import Booking
from jobs.slotdays.models import Sitting, SlotDay
from jobs.slotdays.operations import Offer
from jobs.slotdays.queries import clocks_of
from jobs.slotdays.taking import Visitor
from jobs.slotdays.times import times_of
from studio.forms import (
    DateField,
    LocalDateTime,
    MoneyField,
    PhoneField,
    StudioForm,
    TimeField,
    WhichField,
    page_helper,
    pair,
)
from studio.money import Money, decimal_from_minor, exponent
from studio.profile.models import StudioProfile
from studio.timespan import TimeSpan

BEFORE = timedelta(days=1)


class OfferForm(StudioForm):
    """What one sitting is, and until when it can be chosen."""

    title = forms.CharField(
        label="What it is called", max_length=120, help_text="As clients read it"
    )
    words = forms.CharField(
        label="What stands on its page",
        required=False,
        max_length=1200,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="What is in it, what to bring",
    )
    price = MoneyField(
        "GBP",
        label="Price of one sitting",
        required=False,
        help_text="Each sitting is a job of its own, quoted or invoiced there",
    )
    closes_day = DateField(label="Times can be chosen until")
    closes_clock = TimeField(label="At")
    which = WhichField()

    def __init__(
        self, *args: Any, booking: Booking, day: SlotDay | None = None, **kwargs: Any
    ) -> None:
        kwargs["initial"] = _shown(booking, day) | (kwargs.get("initial") or {})
        super().__init__(*args, **kwargs)
        self.booking = booking
        self.currency = StudioProfile.load().currency
        price = cast("MoneyField", self.fields["price"])
        price.use_currency(self.currency)
        cast("Any", price).unmarked = True

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form."""
        return page_helper(
            "title", "words", "price", pair("closes_day", "closes_clock"), "which"
        )

    def clean(self) -> dict[str, Any]:
        """Find the moment, by the clock of the place."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        until = LocalDateTime("closes_day", "closes_clock", "which")
        cleaned["closes_at"] = until.join(self, self.booking.place.zone)
        closes_at = cleaned["closes_at"]
        if closes_at and closes_at > self.booking.ends_at:
            self.add_error("closes_day", "The session is over by then.")
        return cleaned

    def offer(self) -> Offer:
        """Return what was typed."""
        data = self.cleaned_data
        price = data["price"]
        return Offer(
            title=data["title"],
            words=data["words"],
            price_minor=None if price is None else Money(price, self.currency).minor,
            currency=self.currency,
            closes_at=data["closes_at"],
        )


class SlotDayForm(OfferForm):
    """A new slot day: what is offered, and how its times lie in the session."""

    minutes = forms.IntegerField(
        label="Length of a sitting, minutes", min_value=3, max_value=480, initial=20
    )
    gap = forms.IntegerField(
        label="Between two, minutes", min_value=0, max_value=240, initial=0
    )
    pause_from = TimeField(label="A break from", required=False)
    pause_to = TimeField(label="until", required=False)

    @property
    def helper(self) -> FormHelper:
        """How crispy draws the form: times first."""
        return page_helper(
            pair("minutes", "gap"),
            pair("pause_from", "pause_to"),
            "title",
            "words",
            "price",
            pair("closes_day", "closes_clock"),
            "which",
        )

    def clean(self) -> dict[str, Any]:
        """Lay the times into the session."""
        cleaned = super().clean()
        if "minutes" not in cleaned or "gap" not in cleaned:
            return cleaned
        pauses = self._pauses()
        cleaned["times"] = times_of(
            self.booking.span,
            length=timedelta(minutes=cleaned["minutes"]),
            gap=timedelta(minutes=cleaned["gap"]),
            pauses=pauses,
        )
        if not cleaned["times"]:
            self.add_error("minutes", "No sitting of this length fits the session.")
        return cleaned

    def _pauses(self) -> list[TimeSpan]:
        first, last = (self.cleaned_data.get(f"pause_{end}") for end in ("from", "to"))
        if first is None and last is None:
            return []
        if first is None or last is None:
            side = "pause_from" if first is None else "pause_to"
            self.add_error(side, "Give both ends of the break.")
            return []
        start, end = (_within(self.booking, clock) for clock in (first, last))
        if end <= start:
            self.add_error("pause_to", "The break ends before it starts.")
            return []
        return [TimeSpan(start, end)]


class SitterForm(StudioForm):
    """Who takes a time; by the link a way to reach them is needed."""

    name = forms.CharField(
        label="Name",
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    email = forms.EmailField(label="E-mail", required=False, max_length=254)
    phone = PhoneField(required=False)
    note = forms.CharField(
        label="Anything that we should know",
        required=False,
        max_length=300,
        help_text="Such as who comes",
    )
    layout: ClassVar[tuple[object, ...]] = ("name", pair("email", "phone"), "note")

    def __init__(self, *args: Any, is_visitor: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.is_visitor = is_visitor
        if is_visitor:
            for name in ("email", "phone"):
                cast("Any", self.fields[name]).unmarked = True
            self.fields["email"].help_text = "This or a phone number is enough"

    def clean(self) -> dict[str, Any]:
        """Ask a visitor for a way to be reached."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        reach = {"email", "phone"}
        known = any(cleaned.get(name) for name in reach) or reach & set(self.errors)
        if self.is_visitor and not known:
            self.add_error("email", "Give an e-mail address or a phone number.")
        return cleaned

    def visitor(self) -> Visitor:
        """Return who it is."""
        return Visitor(**self.cleaned_data)


class ChoiceOfTimeForm(StudioForm):
    """Which free time somebody takes."""

    sitting = forms.TypedChoiceField(label="Time", coerce=int)

    def __init__(self, *args: Any, times: list[Sitting], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = cast("forms.TypedChoiceField", self.fields["sitting"])
        field.choices = [(one.pk, clocks_of(one)) for one in times]
        field.error_messages["invalid_choice"] = (
            "This time is taken by now. Choose another."
        )


class NewTimeForm(StudioForm):
    """One more time in the day."""

    starts = TimeField(label="From")
    minutes = forms.IntegerField(label="Minutes", min_value=3, max_value=480)
    layout: ClassVar[tuple[object, ...]] = (pair("starts", "minutes"),)

    def span(self, booking: Booking) -> TimeSpan:
        """Return the time within the session."""
        start = _within(booking, self.cleaned_data["starts"])
        return TimeSpan(start, start + timedelta(minutes=self.cleaned_data["minutes"]))


class ReasonForm(StudioForm):
    """Why a time is given back."""

    because = forms.CharField(label="Why?", max_length=200)


def _within(booking: Booking, clock: time) -> datetime:
    """Return the moment of a session at which the clock of its place shows this."""
    start = booking.local_start
    day: date = start.date()
    moment = datetime.combine(day, clock, tzinfo=booking.place.zone)
    if TimeSpan(booking.starts_at, booking.ends_at).contains(moment):
        return moment
    later = datetime.combine(day + timedelta(days=1), clock, tzinfo=booking.place.zone)
    return later if moment < start and later < booking.local_end else moment


def _shown(booking: Booking, day: SlotDay | None) -> dict[str, Any]:
    until = day.closes_at if day else booking.starts_at - BEFORE
    local = until.astimezone(booking.place.zone)
    shown: dict[str, Any] = {"closes_day": local.date(), "closes_clock": local.time()}
    if day is None:
        return shown | {"title": booking.job.title[:120]}
    digits = exponent(day.currency)
    price = day.price_minor
    return shown | {
        "title": day.title,
        "words": day.words,
        "price": None if price is None else decimal_from_minor(price, digits),
    }
