"""Times alternatives in turn, round by round, and compares them as ratios.

Two noisy cores make an absolute time worthless. Every round runs each alternative once,
every other round in reverse order; a ratio is the median of the ratios of the rounds.
"""

import gc
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import median

Work = Callable[[], object]
Samples = dict[str, list[float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratio:
    """How many times as long one thing takes as another: median and extremes."""

    median: float
    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.median:8.2f} x  ({self.low:.2f}–{self.high:.2f})"


def in_turn(
    works: Mapping[str, Work],
    *,
    rounds: int,
    clock: Callable[[], float] = time.process_time,
) -> Samples:
    """Return the seconds that each alternative took in each round."""
    samples: Samples = {name: [] for name in works}
    for work in works.values():
        work()
    for number in range(rounds):
        names = list(works)
        for name in reversed(names) if number % 2 else names:
            gc.collect()
            start = clock()
            works[name]()
            samples[name].append(clock() - start)
    return samples


def ratio(samples: Samples, slow: str, quick: str) -> Ratio:
    """Return how many times as long `slow` took as `quick`, by rounds."""
    pairs = zip(samples[slow], samples[quick], strict=True)
    ratios = sorted(one / other for one, other in pairs)
    return Ratio(median=median(ratios), low=ratios[0], high=ratios[-1])


def milliseconds(samples: Samples, name: str) -> float:
    """Return the median of the times of one alternative."""
    return 1e3 * median(samples[name])
