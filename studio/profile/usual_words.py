"""Words to start from: plain terms that an owner reads, changes and makes their own.

They are common practice, no source; whoever uses them shows them to somebody who
knows the law of the place.
"""

from typing import Final

TERMS: Final = (
    "The price covers what the quote lists. Anything ordered later is priced apart.\n"
    "The deposit keeps the date for you and comes off the final invoice.\n"
    "You may print and share the pictures privately for as long as you like. Any use "
    "in trade, advertising or the press is agreed in writing first.\n"
    "I choose which pictures are finished. Files that were not finished stay with me.\n"
    "I show your pictures to nobody unless you have said yes to that."
)

MOVING: Final = (
    "You can move the session once at no charge, up to 7 days before it. If you "
    "cancel, I keep no more of the deposit than the session has cost me until then."
)

WEATHER: Final = (
    "If the weather is against us we decide together on the day before: another "
    "place, or another date at no charge."
)

WITHDRAWAL: Final = (
    "If you ordered as a private person and not face to face, you may withdraw within "
    "14 days of saying yes, without a reason. If you asked for a session within those "
    "14 days, you pay for what was done until you withdrew."
)

WEAR: Final = (
    "Colours that go together, without large letters or fine stripes.\n"
    "Shoes that you can walk and stand in.\n"
    "One layer more than you think you need, outdoors."
)

BRING: Final = "Water, and something to eat for children.\nA brush and a small towel."

USUAL_WORDS: Final[dict[str, str]] = {
    "terms": TERMS,
    "moving_words": MOVING,
    "weather_words": WEATHER,
    "withdrawal_words": WITHDRAWAL,
    "wear_words": WEAR,
    "bring_words": BRING,
}
