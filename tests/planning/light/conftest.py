"""One ephemeris for all tests of the light."""

from collections.abc import Iterator

import pytest

from tests.planning.light.ephemeris import FullEphemeris, full_ephemeris


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[FullEphemeris]:
    with full_ephemeris() as one:
        yield one
