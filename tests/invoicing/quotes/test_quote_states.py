import pytest

from invoicing.quotes.states import MOVES, QuoteMoveError, QuoteState, move


@pytest.mark.parametrize("state", QuoteState)
@pytest.mark.parametrize("to", QuoteState)
def test_every_move_is_allowed_or_refused_by_the_table(
    state: QuoteState, to: QuoteState
) -> None:
    if to in MOVES[state]:
        assert move(state, to) == to
    else:
        with pytest.raises(QuoteMoveError, match="cannot become"):
            move(state, to)


def test_an_accepted_quote_goes_nowhere() -> None:
    assert not MOVES[QuoteState.ACCEPTED]
