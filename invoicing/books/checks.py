"""What must be true of closed periods: a new run gives what was filed."""

from collections.abc import Iterator

from invoicing.books.bases import Bases
from invoicing.books.figures import figures_of
from invoicing.books.queries import read_facts
from invoicing.periods.calendar import Span
from invoicing.periods.models import ClosedPeriod
from invoicing.periods.operations import hash_of
from studio.checks import verifies


@verifies("closed periods")
def changed_periods() -> Iterator[str]:
    """Yield a sentence for each closed period whose figures are not the same again."""
    for closed in ClosedPeriod.objects.order_by("starts_on"):
        span = Span(closed.starts_on, closed.ends_on)
        if hash_of(closed.figures) != closed.figures_hash:
            yield f"The figures of {span.name} were changed after it was closed."
        facts = read_facts(closed.figures["currency"])
        again = figures_of(facts, span, bases=Bases.of_closed(closed.figures)).to_json()
        if again != closed.figures:
            yield f"The books of {span.name} give other figures than were closed."
