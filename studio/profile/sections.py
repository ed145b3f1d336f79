"""The studio's own sections of the settings; importing registers them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.db import transaction

from studio.backups.operations import choose_folder
from studio.people.models import Person
from studio.people.operations import take_name
from studio.profile import forms
from studio.profile.models import StudioProfile
from studio.profile.money_form import MoneyForm
from studio.profile.operations import change_profile
from studio.profile.papers_form import PapersForm
from studio.profile.queries import (
    told_of_money,
    told_of_numbers,
    told_of_papers,
    told_of_public,
    told_of_ways,
    told_of_who,
    told_of_words,
)
from studio.sections import Section, add_section


def profile_section(
    form_class: type[forms.ProfileForm],
    *,
    told: Callable[[StudioProfile], str],
    save: Callable[[Any, Person, datetime], None] | None = None,
    **rest: Any,
) -> Section:
    """Register a section whose form is over the profile."""
    return add_section(
        Section(
            make_form=lambda data, profile: form_class(data, profile=profile),
            told=told,
            save=save or _save,
            **rest,
        )
    )


def _save(form: forms.ProfileForm, by: Person, at: datetime) -> None:
    change_profile(details=form.details(), by=by, at=at)


@transaction.atomic
def _save_who(form: forms.WhoForm, by: Person, at: datetime) -> None:
    change_profile(details=form.details(), by=by, at=at)
    take_name(person_id=by.pk, name=form.cleaned_data["owner_name"], at=at)


@transaction.atomic
def _save_public(form: forms.PublicForm, by: Person, at: datetime) -> None:
    address = {"public_address": form.cleaned_data["public_address"]}
    change_profile(details=address, by=by, at=at)
    if form.cleaned_data["backup_dir"] != StudioProfile.load().backup_dir:
        choose_folder(folder=form.cleaned_data["backup_dir"], by=by, at=at)


profile_section(
    forms.WhoForm,
    slug="who",
    name="Who you are",
    hint="Name, address, phone and e-mail, as clients read them",
    order=10,
    told=told_of_who,
    save=_save_who,
    is_first=True,
)
profile_section(
    MoneyForm,
    slug="money",
    name="Money",
    hint="Currency, VAT, deposit, and your bank account",
    order=20,
    told=told_of_money,
    is_first=True,
)
profile_section(
    forms.WaysForm,
    slug="ways",
    name="Usual ways",
    hint="How long quotes hold and when invoices are due",
    order=50,
    told=told_of_ways,
)
profile_section(
    forms.WordsForm,
    slug="words",
    name="Terms and words",
    hint="What stands on quotes, and what clients are told before a session",
    order=60,
    told=told_of_words,
)
profile_section(
    PapersForm,
    slug="invoices",
    name="Invoices",
    hint="Words for each tax treatment, and what helps clients to pay",
    order=46,
    told=told_of_papers,
)
profile_section(
    forms.NumbersForm,
    slug="numbers",
    name="Numbers",
    hint="How quotes, jobs, invoices and credit notes are numbered",
    order=70,
    told=told_of_numbers,
)
profile_section(
    forms.PublicForm,
    slug="public",
    name="Public address and copies",
    hint="Where clients open their quotes, where nightly copies go",
    order=80,
    told=told_of_public,
    save=_save_public,
    blame="backup_dir",
    is_first=True,
)
