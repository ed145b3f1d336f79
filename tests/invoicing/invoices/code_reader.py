"""Reads a QR code of bytes back from its modules (ISO/IEC 18004).

Where its patterns stand and how its blocks are laid out comes from another library
than the one that draws our codes.
"""

from collections.abc import Callable, Sequence

from qrcode import base, constants, util

Modules = Sequence[Sequence[bool]]

# Table of the masks, by row and column.
MASKS: tuple[Callable[[int, int], bool], ...] = (
    lambda y, x: (y + x) % 2 == 0,
    lambda y, _: y % 2 == 0,
    lambda _, x: x % 3 == 0,
    lambda y, x: (y + x) % 3 == 0,
    lambda y, x: (y // 2 + x // 3) % 2 == 0,
    lambda y, x: (y * x) % 2 + (y * x) % 3 == 0,
    lambda y, x: ((y * x) % 2 + (y * x) % 3) % 2 == 0,
    lambda y, x: ((y + x) % 2 + (y * x) % 3) % 2 == 0,
)


def version_of(modules: Modules) -> int:
    return (len(modules) - 17) // 4


def level_and_mask(modules: Modules) -> tuple[int, int]:
    """The bits beside the upper left pattern: two of the level, three of the mask."""
    bits = "".join("1" if modules[8][x] else "0" for x in range(5))
    value = int(bits, 2) ^ 0b10101
    return value >> 3, value & 0b111


def read(modules: Modules) -> bytes:
    """Return the bytes of a code at level M; ValueError where a block is damaged."""
    words = _words(modules)
    blocks = base.rs_blocks(version_of(modules), constants.ERROR_CORRECT_M)
    sizes = [block.data_count for block in blocks]
    checks = blocks[0].total_count - sizes[0]
    data: list[list[int]] = [[] for _ in blocks]
    at = iter(words)
    for place in range(max(sizes)):
        for block, size in zip(data, sizes, strict=True):
            if place < size:
                block.append(next(at))
    whole = [list(block) for block in data]
    for _ in range(checks):
        for block in whole:
            block.append(next(at))
    if any(_syndrome(block, power) for block in whole for power in range(checks)):
        raise ValueError("a block is damaged")
    bits = "".join(f"{word:08b}" for block in data for word in block)
    wide = 8 if version_of(modules) < 10 else 16
    length = int(bits[4 : 4 + wide], 2)
    if bits[:4] != "0100":
        raise ValueError("not a code of bytes")
    start = 4 + wide
    return bytes(int(bits[start + 8 * n : start + 8 * n + 8], 2) for n in range(length))


def _words(modules: Modules) -> list[int]:
    side, mask = len(modules), MASKS[level_and_mask(modules)[1]]
    columns = [*range(side - 1, 6, -2), 5, 3, 1]
    upwards, downwards = range(side - 1, -1, -1), range(side)
    bits = [
        modules[y][x] ^ mask(y, x)
        for turn, right in enumerate(columns)
        for y in (downwards if turn % 2 else upwards)
        for x in (right, right - 1)
        if not _is_pattern(y, x, side)
    ]
    text = "".join("1" if bit else "0" for bit in bits)
    return [int(text[n : n + 8], 2) for n in range(0, len(text) - 7, 8)]


def _is_pattern(y: int, x: int, side: int) -> bool:
    far = side - 8
    if (y < 9 and x < 9) or (y < 9 and x >= far) or (y >= far and x < 9):
        return True
    if 6 in {x, y}:
        return True
    version = (side - 17) // 4
    if version >= 7 and ((y < 6 and x >= side - 11) or (x < 6 and y >= side - 11)):
        return True
    centres = util.pattern_position(version)
    corners = {(6, 6), (6, side - 7), (side - 7, 6)}
    return any(
        abs(y - row) <= 2 and abs(x - column) <= 2
        for row in centres
        for column in centres
        if (row, column) not in corners
    )


def _syndrome(block: list[int], power: int) -> int:
    """The block as a polynomial at a power of the field's root: 0 where it is whole."""
    value = 0
    for word in block:
        shifted = base.gexp(base.glog(value) + power) if value else 0
        value = shifted ^ word
    return value
