"""Two entries that are one client: shown beforehand, done, and undone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from django.apps import apps
from django.db import models, transaction

from jobs.clients.models import Client, ClientMerge
from studio.countries import country_name
from studio.errors import DomainError
from studio.finding.models import Findable, keep_words
from studio.history.models import JournalEntry
from studio.history.operations import record
from studio.people.models import Person
from studio.wording import phone_words

FACTS: Final = {
    "name": "Name",
    "contact_name": "Contact",
    "phone": "Phone",
    "email": "E-mail",
    "address": "Address",
    "country": "Country",
    "tax_number": "Tax number",
    "notes": "Notes",
}
APP: Final = "jobs"


class MergeError(DomainError):
    """Two clients cannot be merged, or not any more be parted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactBeside:
    """One fact of two clients, and what the kept one will say."""

    label: str
    kept: str
    gone: str
    after: str

    @property
    def is_dropped(self) -> bool:
        """Whether something that the other says will be said no more."""
        return bool(self.gone) and self.gone not in self.after


@dataclass(frozen=True, slots=True, kw_only=True)
class MergePreview:
    """What a merge would do."""

    facts: tuple[FactBeside, ...]
    moved: tuple[tuple[str, int], ...]


def preview_merge(kept: Client, gone: Client) -> MergePreview:
    """Return what a merge would do, without doing it."""
    after = {name: getattr(kept, name) for name in FACTS} | _filled(kept, gone)
    return MergePreview(
        facts=tuple(
            FactBeside(
                label=label,
                kept=_shown(name, getattr(kept, name)),
                gone=_shown(name, getattr(gone, name)),
                after=_shown(name, after[name]),
            )
            for name, label in FACTS.items()
            if getattr(kept, name) or getattr(gone, name)
        ),
        moved=tuple(
            (_plural(model, count), count)
            for model, field in _dependants()
            if (count := _rows_of(model, field, gone).count())
        ),
    )


@transaction.atomic
def merge_clients(
    *, kept_id: int, gone_id: int, by: Person, at: datetime
) -> ClientMerge:
    """Let two clients be one: gaps are filled, jobs change hands, nothing is erased.

    Issued papers and payments stay in the name that they were made out to, and are
    found under the client that is kept. Raises MergeError.
    """
    kept, gone = _pair(kept_id, gone_id)
    filled = _filled(kept, gone)
    merge = ClientMerge(kept=kept, gone=gone, merged_at=at, by=by, filled=filled)
    merge.before = {name: getattr(kept, name) for name in filled}
    for name, value in filled.items():
        setattr(kept, name, value)
    kept.save()
    merge.moved = {
        f"{model._meta.label}.{field}": _move(model, field, gone, kept)
        for model, field in _dependants()
    }
    merge.moved["earlier"] = _hand_on(gone, kept)
    gone.merged_into = kept
    gone.save(update_fields=["merged_into"])
    record(gone, "merged away", by=by, at=at, data={"into": kept.pk})
    entry = record(kept, "merged", by=by, at=at, data={"with": gone.pk})
    merge.journal_sequence = entry.sequence
    merge.save()
    return merge


@transaction.atomic
def undo_merge(*, merge_id: int, by: Person, at: datetime) -> ClientMerge:
    """Part two clients again, as they were. Raises MergeError.

    It can be done until something else happens to one of the two.
    """
    merge = ClientMerge.objects.select_for_update().get(pk=merge_id)
    if why_not := why_not_undone(merge):
        raise MergeError(why_not)
    clients = Client.objects.select_for_update().in_bulk([merge.kept_id, merge.gone_id])
    kept, gone = clients[merge.kept_id], clients[merge.gone_id]
    for name, value in merge.before.items():
        setattr(kept, name, value)
    kept.save()
    for key, ids in merge.moved.items():
        if key == "earlier":
            Client.objects.filter(pk__in=ids).update(merged_into=gone)
            continue
        label, _, field = key.rpartition(".")
        _hand_over(apps.get_model(label), field, ids, kept, gone)
    gone.merged_into = None
    gone.save(update_fields=["merged_into"])
    merge.undone_at = at
    merge.save(update_fields=["undone_at"])
    record(gone, "parted", by=by, at=at, data={"from": kept.pk})
    record(kept, "parted", by=by, at=at, data={"from": gone.pk})
    return merge


def why_not_undone(merge: ClientMerge) -> str:
    """Return why a merge cannot be undone, nothing where it can."""
    if merge.undone_at:
        return "The merge was undone already."
    since = JournalEntry.objects.filter(
        object_type=Client._meta.label_lower,
        object_id__in=[merge.kept_id, merge.gone_id],
        sequence__gt=merge.journal_sequence,
    )
    if since.exists():
        return "The client was changed since, so the merge stays."
    return ""


def last_merge(client: Client) -> ClientMerge | None:
    """Return the merge of a client that can still be undone, if there is one."""
    merges = client.merges.filter(undone_at__isnull=True).select_related("gone", "by")
    last = merges.first()
    return None if last is None or why_not_undone(last) else last


def _pair(kept_id: int, gone_id: int) -> tuple[Client, Client]:
    if kept_id == gone_id:
        raise MergeError("Choose two clients, not one twice.")
    rows = Client.objects.select_for_update().order_by("pk")
    clients = rows.in_bulk([kept_id, gone_id])
    if len(clients) != 2:
        raise MergeError("One of the two is not there any more.")
    if any(client.merged_into_id for client in clients.values()):
        raise MergeError("One of the two was merged with a client already.")
    return clients[kept_id], clients[gone_id]


def _filled(kept: Client, gone: Client) -> dict[str, str]:
    """Return the facts that the kept client gains."""
    filled = {
        name: getattr(gone, name)
        for name in FACTS
        if getattr(gone, name) and not getattr(kept, name)
    }
    if kept.notes and gone.notes and gone.notes not in kept.notes:
        filled["notes"] = f"{kept.notes}\n{gone.notes}"[:4000]
    return filled


def _plural(model: type[models.Model], count: int) -> str:
    meta = model._meta
    return str(meta.verbose_name if count == 1 else meta.verbose_name_plural)


def _shown(name: str, value: str) -> str:
    if name == "country":
        return country_name(value)
    return phone_words(value) if name == "phone" else value


def _dependants() -> Iterator[tuple[type[models.Model], str]]:
    """Give the tables of this app whose rows belong to a client."""
    for relation in Client._meta.related_objects:
        model = relation.related_model
        if model._meta.app_label == APP and model not in {Client, ClientMerge}:
            yield model, relation.field.name


def _rows_of(
    model: type[models.Model], field: str, client: Client
) -> models.QuerySet[models.Model]:
    return model._default_manager.filter(**{field: client})


def _move(
    model: type[models.Model], field: str, gone: Client, kept: Client
) -> list[int]:
    rows = _rows_of(model, field, gone)
    ids = list(rows.order_by("pk").values_list("pk", flat=True))
    _hand_over(model, field, ids, gone, kept)
    return ids


def _hand_over(
    model: type[models.Model], field: str, ids: list[int], of: Client, to: Client
) -> None:
    """Let rows that still belong to one client belong to another."""
    rows = _rows_of(model, field, of).filter(pk__in=ids)
    rows.update(**{field: to})
    if issubclass(model, Findable):
        keep_words(model.to_be_found().filter(pk__in=ids))


def _hand_on(gone: Client, kept: Client) -> list[int]:
    """Let what was merged into the one belong to the other."""
    earlier = Client.objects.filter(merged_into=gone)
    ids = list(earlier.order_by("pk").values_list("pk", flat=True))
    earlier.update(merged_into=kept)
    return ids
