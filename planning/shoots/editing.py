"""A set-up as it is being edited: its form, and the light that it would stand in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from django.utils.datastructures import MultiValueDict

from jobs.bookings.models import Booking
from jobs.kits.models import KitCategory, KitItem
from planning.shoots.charts.light_chart import light_chart
from planning.shoots.choices import SkyWord
from planning.shoots.forms import SetUpForm, initial_of
from planning.shoots.models import SetUp, ShootPlan
from planning.shoots.planned import Caution, PlannedSetUp, PlannedShoot
from planning.shoots.queries import rows_of, work_out
from planning.shoots.shown import NARROW_CHART, ShownSetUp, shown_set_up
from planning.shoots.turning import (
    HANDLE,
    SUN_TURNS,
    Handle,
    handles_of,
    heading_for,
)
from planning.shoots.words import settings_words
from studio.scene.drawing import Drawing

Typed = MultiValueDict[str, str]
NEAR, FEW = 2, 4
"""How many set-ups before and after the open one stand unfolded; so few all do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherSetUp:
    """A set-up beside the one that is open."""

    pk: int
    number: int
    name: str
    settings: str
    planned: PlannedSetUp


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """The set-ups before or after the open one; the far ones are folded away."""

    near: tuple[OtherSetUp, ...]
    far: tuple[OtherSetUp, ...]

    @property
    def far_words(self) -> str:
        """Which set-ups are folded away."""
        first, last = self.far[0].number, self.far[-1].number
        return f"Set-up {first}" if first == last else f"Set-ups {first} to {last}"


class Editor:
    """One set-up of a booking being edited, saved or new, as far as it is typed.

    What is not understood yet is drawn as it was before, and named.
    """

    def __init__(
        self, booking: Booking, row: SetUp | None, data: Typed | None = None
    ) -> None:
        self.booking, self.row = booking, row
        self.plan = ShootPlan.objects.filter(booking=booking).first()
        self.saved = rows_of(self.plan) if self.plan else []
        known = {one.pk: one for one in self.saved}
        self.before = known[row.pk] if row else first_guess(booking, self.saved)
        self.turned: tuple[str, ...] = ()
        typed = None if data is None else self._turned_by_hand(data)
        self.form = self._form(typed)
        if typed is not None and typed.get("turn", "") in SUN_TURNS:
            self._turn_by_sun(typed)

    def _form(self, data: Typed | None) -> SetUpForm:
        initial = initial_of(self.before, self.booking.place.zone)
        return SetUpForm(data, booking=self.booking, initial=initial)

    def _turned_by_hand(self, data: Typed) -> Typed:
        turned = data.copy()
        for sent, value in data.items():
            field = sent.removeprefix(HANDLE)
            if field != sent and field in SetUpForm.base_fields:
                turned[field] = str(value)
                self.turned += (field,)
        return turned

    def _turn_by_sun(self, typed: Typed) -> None:
        azimuth = self.planned.sun_middle.azimuth_deg
        typed["heading"] = f"{heading_for(str(typed['turn']), azimuth):.0f}"
        self.turned += ("heading",)
        for kept in ("tried", "shoot", "planned"):
            self.__dict__.pop(kept, None)
        self.form = self._form(typed)

    @property
    def turned_fields(self) -> list[str]:
        """The fields that a turn of the dial has set, as they are drawn again."""
        attrs: dict[str, str | bool] = {"hx-swap-oob": "true"}
        return [self.form[name].as_widget(attrs=attrs) for name in self.turned]

    @cached_property
    def problems(self) -> tuple[tuple[str, str], ...]:
        """What is not understood or does not fit together: the field, the sentence."""
        if not self.form.is_bound:
            return ()
        return tuple(
            (self._label(name), str(sentence))
            for name, sentences in self.form.errors.items()
            if name != "name"
            for sentence in sentences
        )

    def _label(self, name: str) -> str:
        return str(self.form[name].label) if name in self.form.fields else ""

    @cached_property
    def tried(self) -> SetUp:
        """The set-up as it would be saved now; nothing is written."""
        tried = SetUp(**_values(self.before))
        if self.form.is_bound:
            initial = self.form.initial
            for name in self.form.errors:
                if name in self.form.fields:
                    self.form.cleaned_data[name] = initial.get(name)
            for name, value in self.form.details().items():
                setattr(tried, name, value)
        return tried

    @cached_property
    def shoot(self) -> PlannedShoot:
        """The whole plan with the set-up as it is typed."""
        rows = [self.tried if one.pk == self.tried.pk else one for one in self.saved]
        if self.row is None:
            rows.append(self.tried)
        sky = SkyWord(self.plan.sky) if self.plan else SkyWord.CLEAR
        return work_out(self.booking, rows, sky)

    @cached_property
    def place(self) -> int:
        """Where the set-up stands in the order, from 0."""
        if self.row is None:
            return len(self.saved)
        return [one.pk for one in self.saved].index(self.row.pk)

    @cached_property
    def planned(self) -> PlannedSetUp:
        """The set-up worked out."""
        return self.shoot.set_ups[self.place]

    @property
    def one(self) -> ShownSetUp:
        """The set-up in words."""
        return shown_set_up(self.planned)

    @property
    def chart(self) -> Drawing:
        """The light chart, the set-up marked on it."""
        return light_chart(self.shoot, replace(NARROW_CHART, chosen=self.place + 1))

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What may go wrong with this set-up."""
        number = self.place + 1
        return tuple(one for one in self.shoot.cautions if one.set_up == number)

    @property
    def handles(self) -> tuple[Handle, ...]:
        """What can be turned on the dial."""
        return handles_of(self.planned.facts)

    @property
    def above(self) -> Around:
        """The set-ups before it."""
        others = self._others(self.shoot.set_ups[: self.place])
        kept = len(others) if len(others) <= FEW else NEAR
        return Around(
            near=others[len(others) - kept :], far=others[: len(others) - kept]
        )

    @property
    def below(self) -> Around:
        """The set-ups after it."""
        others = self._others(self.shoot.set_ups[self.place + 1 :])
        kept = len(others) if len(others) <= FEW else NEAR
        return Around(near=others[:kept], far=others[kept:])

    def _others(self, planned: tuple[PlannedSetUp, ...]) -> tuple[OtherSetUp, ...]:
        return tuple(
            OtherSetUp(
                pk=one.facts.pk,
                number=one.facts.number,
                name=one.facts.name,
                settings=settings_words(one),
                planned=one,
            )
            for one in planned
        )


def first_guess(booking: Booking, saved: list[SetUp]) -> SetUp:
    """Return a new set-up as it is likely to be: like the last, with the kit held."""
    held = KitItem.objects.filter(reservations__booking=booking)
    kit = list(held.of(KitCategory.CAMERA, KitCategory.LENS))
    camera = next((one for one in kit if one.category == KitCategory.CAMERA), None)
    lens = next((one for one in kit if one.category == KitCategory.LENS), None)
    guess = SetUp(starts_at=booking.starts_at, camera=camera, lens=lens)
    if lens and lens.focal_length_mm:
        guess.focal_length_mm = lens.focal_length_mm
    if saved:
        last = saved[-1]
        guess.starts_at = last.ends_at
        for name in ("camera_heading_deg", "people", "depth_m", "distance_m"):
            setattr(guess, name, getattr(last, name))
    return guess


def _values(row: SetUp) -> Mapping[str, Any]:
    fields = [one.name for one in SetUp._meta.fields if one.name != "plan"]
    return {name: getattr(row, name) for name in fields}
