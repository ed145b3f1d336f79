"""What a job is called before anybody has named it."""

import re
from typing import Final

LONGEST_WHAT: Final = 70
_SENTENCE_END: Final = re.compile(r"\.(?:\s|$)|[;!?\n]")


def title_of(name: str, wish: str) -> str:
    """Return a title made of a name and the first words of a wish."""
    first = _SENTENCE_END.split(wish.strip(), maxsplit=1)[0]
    words = " ".join(first.split())
    if len(words) > LONGEST_WHAT:
        words = words[:LONGEST_WHAT].rsplit(" ", 1)[0] + "…"
    short = name if len(name) <= 100 else f"{name[:99].rstrip()}…"
    return f"{short}, {words}" if words else short
