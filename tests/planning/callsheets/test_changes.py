"""What two versions differ in: pure, on contents written out by hand."""

from typing import Any

import pytest

from planning.callsheets.changes import (
    changed_facts,
    changed_set_ups,
    client_changes,
    crew_changes,
)


def set_up(**more: Any) -> dict[str, Any]:
    return {
        "key": 7,
        "number": 2,
        "name": "Bow",
        "start": "16:10",
        "end": "16:45",
        "settings": "f/2.8  1/250",
        "beside": "ISO 400, 85 mm",
        "note": "All four.",
        "otherwise": "",
    } | more


def crew(**more: Any) -> dict[str, Any]:
    sheet: dict[str, Any] = {
        "facts": [["On site", "16:00"], ["Wrap", "18:00"]],
        "place": [["Parking", "On the hard."]],
        "people": [{"name": "Ines", "role": "client", "phone": "01632 960118"}],
        "set_ups": [set_up()],
        "kit": [["Light", ["Speedlight"]]],
        "cautions": [["Gusts.", "Weigh stands down."]],
        "light": [["16:00", "10.0"]],
    }
    return {"sheet": sheet | more}


def test_where_the_client_finds_it_is_held_line_against_line() -> None:
    was = client(where=["Quay Lane.", "Where we meet: the winch."])
    now = client(where=["Quay Lane.", "Where we meet: the gate."])
    assert client_changes(was, now) == ("Where we meet: the gate, was “the winch”",)


def client(**more: Any) -> dict[str, Any]:
    page = {"facts": [["Meet", "16:00"]], "steps": [["16:10", "Bow", "In the sun."]]}
    return {"page": page | more}


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (
            {"facts": [["On site", "16:30"], ["Wrap", "18:00"]]},
            ("On site 16:30, was 16:00",),
        ),
        ({"facts": [["On site", "16:00"]]}, ("Wrap, taken off: 18:00",)),
        (
            {"place": [["Parking", "In the yard."]]},
            ("Parking: In the yard, was “On the hard”",),
        ),
        ({"rain": "The loft."}, ("If it rains, added: The loft.",)),
        (
            {"people": [{"name": "Ines", "role": "client", "phone": "01632 960119"}]},
            ("Ines: 01632 960119, was 01632 960118",),
        ),
        (
            {"people": [{"name": "Jo", "role": "cello", "phone": "–"}]},
            ("People, added: Jo (cello, –)", "People, taken off: Ines"),
        ),
        (
            {"kit": [["Light", ["Soft box"]]]},
            ("Kit, added: Soft box", "Kit, taken off: Speedlight"),
        ),
        ({"cautions": []}, ("Cautions, taken off: Gusts",)),
        ({"light": []}, ("The table of light has other figures",)),
    ],
)
def test_each_part_says_what_it_says_now(
    change: dict[str, Any], told: tuple[str, ...]
) -> None:
    assert crew_changes(crew(), crew(**change)) == told


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"settings": "f/2  1/250"}, "Set-up 2, 85 mm: f/2, was f/2.8"),
        (
            {"settings": "f/2  1/500", "beside": "ISO 400, 50 mm"},
            "Set-up 2: f/2, was f/2.8; 1/500, was 1/250; 50 mm, was 85 mm",
        ),
        (
            {"start": "16:20", "end": "16:55"},
            "Set-up 2, 85 mm: 16:20–16:55, was 16:10–16:45",
        ),
        (
            {"number": 1, "name": "Stern"},
            "Set-up 1, 85 mm: was number 2; Stern, was Bow",
        ),
        ({"note": "Two only."}, "Set-up 2, 85 mm: “Two only”"),
        (
            {"otherwise": "If overcast: f/2.8 1/60 ISO 400."},
            "Set-up 2, 85 mm: If overcast: f/2.8 1/60 ISO 400",
        ),
        (
            {"beside": "ISO 400, 85 mm, 1/100 to 1/400"},
            "Set-up 2, 85 mm: range 1/100 to 1/400",
        ),
        (
            {"settings": "f/2  1/250", "beside": "ISO 400, 85 mm, 1/100 to 1/400"},
            "Set-up 2, 85 mm: f/2, was f/2.8",
        ),
        ({"key": 8, "name": "Other"}, "Set-up 2, added: Other, 16:10–16:45"),
    ],
)
def test_a_set_up_is_followed_by_its_row(change: dict[str, Any], told: str) -> None:
    said = crew_changes(crew(), crew(set_ups=[set_up(**change)]))
    assert said[0] == told


def test_a_set_up_that_was_made_anew_is_known_by_its_name() -> None:
    now = crew(set_ups=[set_up(key=9)])
    assert crew_changes(crew(), now) == ()
    assert crew_changes(crew(), crew(set_ups=[])) == (
        "Set-up taken off: Bow, which was 2",
    )


def test_of_long_words_only_the_new_ones_are_said() -> None:
    now = crew(notes="Short.")
    assert crew_changes(crew(notes="x" * 200), now) == ("Note: Short",)


def test_the_clients_changes_are_those_of_their_own_page() -> None:
    now = client(facts=[["Meet", "16:30"]], steps=[["16:40", "Bow", "In the sun."]])
    told = ("Meet 16:30, was 16:00", "Bow 16:40, was 16:10")
    assert client_changes(client() | crew(), now | crew(kit=[])) == told


def test_against_a_version_whose_words_were_not_kept_nothing_is_claimed() -> None:
    assert crew_changes({}, crew()) == ()
    assert client_changes({}, client()) == ()
    assert changed_set_ups({}, crew()) == frozenset()


def test_what_is_marked_is_what_differs() -> None:
    now = crew(
        facts=[["On site", "16:30"], ["Wrap", "18:00"]], set_ups=[set_up(note="")]
    )
    assert changed_facts(crew(), now, "sheet") == {"On site"}
    assert changed_set_ups(crew(), now) == {7}
    assert changed_set_ups(crew(), crew()) == frozenset()
