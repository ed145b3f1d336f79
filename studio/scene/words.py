"""Words made fit for drawing: what cannot be seen, or would mislead, is taken out."""

import unicodedata

_BREAKS = dict.fromkeys(map(ord, "\v\f\x1c\x1d\x1e\x85\u2028\u2029"), "\n")
_VARIATION = frozenset(map(chr, [*range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0)]))
_NOT_IN_XML = frozenset("\ufffe\uffff")
_HIDDEN = frozenset({"Cc", "Cf"})
REPLACED = "\ufffd"


def printable(words: str) -> str:
    """Return words in composed form, on one or more lines, with nothing hidden.

    Control and format characters (bidirectional overrides and zero-width marks
    among them) are dropped, tabs become spaces, every kind of line end becomes
    a newline; half a surrogate pair, or what XML forbids, becomes U+FFFD. Never raises.
    """
    if words.isprintable() and (words.isascii() or _VARIATION.isdisjoint(words)):
        return unicodedata.normalize("NFC", words)
    lines = words.replace("\r\n", "\n").replace("\r", "\n").translate(_BREAKS)
    whole = "".join(map(_visible, lines))
    return unicodedata.normalize("NFC", whole)


def one_line(words: str) -> str:
    """Return printable words with each line end as a space."""
    if words.isascii() and words.isprintable():
        return words
    return printable(words).replace("\n", " ")


def _visible(character: str) -> str:
    if character == "\n":
        return character
    if character == "\t":
        return " "
    category = unicodedata.category(character)
    if category == "Cs" or character in _NOT_IN_XML:
        return REPLACED
    if category in _HIDDEN or character in _VARIATION:
        return ""
    return character
