"""How wide words run in Source Sans, so that a drawing can keep labels apart.

Advance widths in thousandths of the type size for U+0020 to U+007E, read from
the `hmtx` tables of the fonts that paper is set in; tests hold them to the fonts.
Other characters count as wide as a digit, which suits en dashes, primes, accents.
"""

from studio.scene.drawing import Weight

_FIRST = 0x20
_RULES: dict[Weight, str] = {
    400: (
        "200 289 425 497 497 824 609 249 303 303 418 497 249 311 249 350 497 497 "
        "497 497 497 497 497 497 497 497 249 249 497 497 497 425 847 544 588 571 "
        "615 527 494 617 652 263 480 579 486 727 647 664 566 664 569 534 536 645 "
        "515 786 513 476 539 303 350 303 497 500 542 504 553 456 555 496 292 504 "
        "544 246 247 495 255 829 547 542 555 555 347 419 338 544 467 718 446 467 "
        "425 303 241 303 497 "
    ),
    600: (
        "200 315 482 513 513 841 639 275 324 324 438 513 275 322 275 344 513 513 "
        "513 513 513 513 513 513 513 513 275 275 513 513 513 444 875 558 597 576 "
        "625 538 510 628 663 282 494 597 502 745 656 674 582 674 592 545 546 655 "
        "536 800 541 501 540 324 344 324 513 500 549 516 563 462 564 507 317 520 "
        "558 262 263 522 271 843 560 549 564 564 373 431 361 556 495 748 481 495 "
        "443 324 255 324 513 "
    ),
    700: (
        "200 340 536 528 528 857 667 300 344 344 457 528 300 332 300 339 528 528 "
        "528 528 528 528 528 528 528 528 300 300 528 528 528 463 903 573 605 582 "
        "635 548 524 638 674 301 509 614 518 762 665 684 596 684 613 556 556 665 "
        "556 813 567 525 541 344 339 344 528 500 555 527 573 467 573 518 341 534 "
        "571 276 278 548 286 857 572 555 573 573 398 443 383 568 523 776 514 521 "
        "460 344 268 344 528 "
    ),
    900: (
        "200 360 580 540 540 870 690 320 360 360 472 540 320 340 320 334 540 540 "
        "540 540 540 540 540 540 540 540 320 320 540 540 540 478 924 584 612 586 "
        "642 556 536 646 682 316 520 628 530 776 672 692 608 692 630 564 564 672 "
        "572 824 588 544 542 360 334 360 540 500 560 536 580 472 580 526 360 546 "
        "582 288 290 568 298 868 582 560 580 580 418 452 400 578 544 798 540 542 "
        "474 360 278 360 540 "
    ),
}
_ASCII = {weight: tuple(map(int, rule.split())) for weight, rule in _RULES.items()}
_SPECIAL = {"\u00a0": " ", "\u2013": "0", "\u2019": "'", "\u00b0": "("}


def words_width(words: str, *, size: float, weight: Weight = 400) -> float:
    """Return about how wide one line of words runs, in the units of `size`.

    Exact for ASCII (no kerning is applied on paper), within a few parts in a
    hundred for other Latin text.
    """
    table = _ASCII[weight]
    return sum(_thousandths(character, table) for character in words) * size / 1000.0


def _thousandths(character: str, table: tuple[int, ...]) -> int:
    place = ord(_SPECIAL.get(character, character)) - _FIRST
    return table[place] if 0 <= place < len(table) else table[ord("0") - _FIRST]
