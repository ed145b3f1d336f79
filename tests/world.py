"""What must hold after every fault: all records are in order."""

from studio.checks import verify


def faults() -> dict[str, tuple[str, ...]]:
    return {verdict.what: verdict.faults for verdict in verify() if verdict.faults}


def assert_world() -> None:
    assert faults() == {}
