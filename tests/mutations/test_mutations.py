"""The list of changed constants stays true: each stands once, and one is tried."""

from pathlib import Path

import pytest

from tests.machine import ROOT
from tests.mutations.light import MUTATIONS, Mutation, copied_tree, trial

CHEAP = next(one for one in MUTATIONS if one.file == "colour.py")


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda one: one.what)
def test_the_constant_stands_once_and_is_changed(mutation: Mutation) -> None:
    text = (ROOT / mutation.path).read_text()

    assert mutation.applied(text) != text
    assert list((ROOT / "tests/planning/light").glob(mutation.tests))


def test_a_changed_constant_is_noticed(tmp_path: Path) -> None:
    verdict = trial(copied_tree(tmp_path), CHEAP)

    assert verdict.noticed_by.startswith("test_colour.py::")


@pytest.mark.slow
def test_every_changed_constant_is_noticed(tmp_path: Path) -> None:
    tree = copied_tree(tmp_path)

    assert [one.what for one in MUTATIONS if not trial(tree, one).noticed_by] == []
