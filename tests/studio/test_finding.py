from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps as all_apps
from django.db import ProgrammingError, connection
from django.test.utils import CaptureQueriesContext

from jobs.clients.merging import merge_clients, undo_merge
from jobs.clients.models import Client, Contact
from jobs.clients.operations import list_contacts
from jobs.jobs.models import Job
from jobs.places.models import Place
from studio.checks import verify
from studio.finding.mending import faults, mend_words
from studio.finding.models import FindableWords
from studio.finding.words import asked, asked_number, folded
from studio.search import find
from tests.make import NOON, make_client, make_item, make_job, make_person, make_place
from tests.make_invoicing import make_invoice
from tests.make_quotes import make_quote

# Full case folding and canonical decomposition as in the Unicode Character Database
# (CaseFolding.txt, UnicodeData.txt, version 15): the value is what both sides become.
FOLDS = [
    ("ZOË", "zoe"),
    ("Straße", "strasse"),
    ("ΟΔΥΣΣΕΎΣ", "οδυσσευσ"),
    ("Йорданка", "иорданка"),
    ("ﬁeld", "field"),
    ("a\u200bb\tc", "a b c"),
]


@pytest.mark.parametrize(("written", "compared"), FOLDS)
def test_words_are_compared_without_case_and_marks(written: str, compared: str) -> None:
    assert folded(written) == compared


def test_eight_words_are_looked_for_at_most() -> None:
    assert asked("a b c d e f g h i j") == list("abcdefgh")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("01632 960777", "1632960777"),
        ("+44 (1632) 96-07", "4416329607"),
        ("960777", "960777"),
        ("123", ""),
        ("2026 b", ""),
        ("٠١٢٣٤٥", ""),  # Arabic digits are not how numbers are kept
    ],
)
def test_a_phone_number_is_told_from_words(typed: str, meant: str) -> None:
    assert folded(asked_number(typed)) == meant


@pytest.mark.django_db
def test_a_name_is_found_however_it_is_typed() -> None:
    client = make_client("Zoë Müller-Straße")
    make_job("Ödön at the Fjärd", client=client)
    owner = make_person()

    for words in ("ZOE", "muller strasse", "fjard", "ÖDÖN müller", "er-str"):
        titles = {one.title for one in find(words, person=owner).rows}
        assert "Ödön at the Fjärd" in titles, words


@pytest.mark.django_db
def test_a_sign_of_the_pattern_language_is_only_a_sign() -> None:
    make_place("Half_way 100% house")

    assert Place.objects.matching("100%").exists()
    assert Place.objects.matching("f_w").exists()
    assert not Place.objects.matching("f%w").exists()
    assert not Place.objects.matching("l_way").exists()


@pytest.mark.django_db
def test_a_new_name_is_found_in_all_that_is_theirs() -> None:
    client = make_client("Old Name")
    job = make_job("Jacket", client=client)

    client.name = "Newer Name"
    client.save(update_fields=["name"])

    assert list(Job.objects.matching("newer jacket")) == [job]
    assert not Job.objects.matching("old").exists()


@pytest.mark.django_db
def test_contacts_lead_to_their_client_until_they_are_taken_off() -> None:
    client, owner = make_client("Harbour trust"), make_person()
    pia = Contact(name="Pia Low", phone="+441632960088")
    list_contacts(client_id=client.pk, contacts=[pia], by=owner, at=NOON)

    assert list(Client.objects.matching("harbour pia")) == [client]
    assert list(Client.objects.matching("01632 960088")) == [client]

    list_contacts(client_id=client.pk, contacts=[], by=owner, at=NOON)

    assert not Client.objects.matching("pia").exists()
    assert not list(faults())


@pytest.mark.django_db
def test_a_merge_and_its_undoing_carry_the_words_along() -> None:
    kept, gone, owner = (
        make_client("Ada Thorn"),
        make_client("A. Thorne"),
        make_person(),
    )
    job = make_job("Jacket", client=gone)

    merge = merge_clients(kept_id=kept.pk, gone_id=gone.pk, by=owner, at=NOON)
    assert list(Job.objects.matching("ada jacket")) == [job]
    assert not list(faults())

    undo_merge(merge_id=merge.pk, by=owner, at=NOON)
    assert list(Job.objects.matching("thorne jacket")) == [job]
    assert not Job.objects.matching("ada jacket").exists()
    assert not list(faults())


@pytest.mark.django_db
def test_what_other_hands_wrote_is_noticed_and_put_right() -> None:
    job, client = make_job("Jacket"), make_client("Ada Thorn")
    Job.objects.filter(pk=job.pk).update(title="Waistcoat")
    Client.objects.filter(pk=client.pk).delete()
    FindableWords.objects.filter(source="jobs.job").exclude(source_id=job.pk).delete()

    verdict = next(one for one in verify() if one.what == "words of the search box")
    assert len(verdict.faults) == 2

    assert mend_words() == 2
    assert mend_words() == 0
    assert list(Job.objects.matching("waistcoat")) == [job]


@pytest.mark.django_db
def test_what_changes_no_word_writes_none() -> None:
    job = make_job("Jacket")

    with CaptureQueriesContext(
        connection,
    ) as queries:
        job.save(update_fields=["stage"])

    assert not any("findablewords" in query["sql"] for query in queries)


@pytest.mark.django_db
def test_the_longest_words_fit_the_index() -> None:
    """An entry of PostgreSQL's index has 2,704 bytes at most (its manual, 11.2)."""
    place = make_place("\U00020000" * 300)
    place.address = "𠀋 " * 200
    place.save()

    assert Place.objects.matching("\U00020000" * 250).exists()


@pytest.mark.django_db
@pytest.mark.parametrize("app", ["jobs", "invoicing"])
def test_the_migration_writes_the_words_that_operations_keep(app: str) -> None:
    numbers = {"jobs": "0019", "invoicing": "0012"}
    migration = f"{app}.migrations.{numbers[app]}_words_of_what_is_there"
    client, owner = make_client("Zoë Thorn", phone="+441632960118"), make_person()
    pia = Contact(name="Pia Low", phone="+441632960088", email="pia@low.example")
    list_contacts(client_id=client.pk, contacts=[pia], by=owner, at=NOON)
    make_quote(make_job(client=client))
    make_invoice()
    make_place("Half_way house")
    make_item("Harbour case")
    kinds = FindableWords.objects.filter(source__startswith=f"{app}.")
    kept = kinds.delete()[0]

    import_module(migration).write_words(all_apps, None)

    assert kinds.count() == kept >= 2
    assert not list(faults())


@pytest.mark.django_db
def test_only_postgres_has_an_index_of_parts_besides() -> None:
    with connection.cursor() as cursor:
        made = connection.introspection.get_constraints(
            cursor, FindableWords._meta.db_table
        )

    assert ("findable_words_parts" in made) == (connection.vendor == "postgresql")
    assert "findable_words_by_kind" in made


@pytest.mark.django_db
def test_a_database_that_refuses_its_extension_goes_without() -> None:
    migration = import_module("studio.migrations.0013_findable_words")
    asked_for = []

    class Refusing:
        connection = SimpleNamespace(vendor="postgresql", alias="default")

        def execute(self, statement: str) -> None:
            asked_for.append(statement)
            raise ProgrammingError("permission denied to create extension")

    migration.index_parts_of_words(all_apps, Refusing())

    assert len(asked_for) == 1
