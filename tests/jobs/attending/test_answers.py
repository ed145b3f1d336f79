"""Two who answer at once: the later one sees what changed, and nothing is lost."""

from typing import Any

from jobs.attending.answers import (
    TAKEN_OFF,
    Draft,
    Meanwhile,
    Snapshot,
    changed_meanwhile,
)

SHOWN = Snapshot(
    session={"dog_comes": False, "guardian_name": ""},
    people={4: {"name": "Ilo", "age": 3, "wears_glasses": False}},
)


def stands(session: dict[str, Any] | None = None, **person: Any) -> Snapshot:
    return Snapshot(
        session={**SHOWN.session, **(session or {})},
        people={4: {**SHOWN.people[4], **person}},
    )


def typed(session: dict[str, Any] | None = None, **person: Any) -> Draft:
    found = stands(session, **person)
    return Draft(session=found.session, people=found.people)


def test_nothing_changed_meanwhile() -> None:
    assert changed_meanwhile(SHOWN, stands(), typed(age=4)) == ()


def test_both_wrote_the_same() -> None:
    assert changed_meanwhile(SHOWN, stands(age=4), typed(age=4)) == ()


def test_what_the_other_wrote_is_shown_where_this_one_did_not_write() -> None:
    changes = changed_meanwhile(SHOWN, stands(age=4), typed(wears_glasses=True))

    assert changes == (
        Meanwhile(
            row=4,
            name="age",
            shown=4,
            sentence="Changed meanwhile; before it was “3”.",
        ),
    )


def test_where_both_wrote_what_was_typed_stays_and_the_other_is_told() -> None:
    changes = changed_meanwhile(
        SHOWN,
        stands({"guardian_name": "Oriel"}),
        typed({"guardian_name": "Piran"}),
    )

    assert [(one.row, one.name, one.shown) for one in changes] == [
        (None, "guardian_name", "Piran")
    ]
    assert changes[0].sentence == (
        "Somebody else wrote “Oriel” meanwhile. Save again to keep yours."
    )


def test_somebody_taken_off_meanwhile_can_be_put_back() -> None:
    gone = Snapshot(session=SHOWN.session)
    draft = typed()

    (change,) = changed_meanwhile(SHOWN, gone, draft)

    assert (change.row, change.name, change.sentence) == (4, "name", TAKEN_OFF)
    both = Draft(session=draft.session, people=draft.people, removed=frozenset({4}))
    assert changed_meanwhile(SHOWN, gone, both) == ()


def test_a_page_whose_memory_is_lost_overwrites_nothing() -> None:
    blank = Snapshot(session={})

    changes = changed_meanwhile(blank, stands(age=4), typed(age=5))

    assert "age" in {one.name for one in changes}
