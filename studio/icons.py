"""Our own line drawings: a 20-unit grid, a line of 1.75, no fill; a word stands beside.

Marks are drawn on 16 units and say a state by their shape, so that they read in grey.
"""

from typing import Final

ICONS: Final[dict[str, str]] = {
    "alert": "M10 3.2 17.3 16.8H2.7z M10 8v4 M10 14.1v1",
    "arrow": "M3.2 10h12.6 M11 5.2 15.8 10 11 14.8",
    "arrow-back": "M16.8 10H4.2 M9 5.2 4.2 10 9 14.8",
    "box": "M3 7.2h14v9.6H3z M7 7.2V4h6v3.2 M7.2 12h5.6",
    "calendar": "M3 4.8h14v12H3z M3 8.6h14 M6.8 2.8v3.6 M13.2 2.8v3.6",
    "camera": (
        "M2.6 6h4l1.3-2.2h4.2L13.4 6h4v10.4H2.6z M13 11.2a3 3 0 1 1-6 0 3 3 0 0 1 6 0z"
    ),
    "chart": "M3 3v14h14 M6.2 13.6v-3 M10 13.6V6 M13.8 13.6V8.4",
    "chevron": "M5 7.6 10 12.6 15 7.6",
    "clock": "M17 10a7 7 0 1 1-14 0 7 7 0 0 1 14 0z M10 5.8V10l3 2",
    "cloud": "M5.6 15.4a3.2 3.2 0 0 1 0-6.4 4.6 4.6 0 0 1 8.9 0 3.2 3.2 0 0 1 0 6.4z",
    "copy": "M7 7h9.6v9.6H7z M13 7V3.4H3.4V13H7",
    "cross": "M5 5 15 15 M15 5 5 15",
    "download": "M10 3v9.4 M5.8 8.4 10 12.6l4.2-4.2 M3.4 16.8h13.2",
    "file": "M4.8 2.8h7l3.6 3.6v10.8H4.8z M7.8 10.2h4.6 M7.8 13.4h4.6",
    "flash": "M11.4 2.6 5 11.4h4.4L8.4 17.4 15 8.4h-4.6z",
    "folder": "M3 16.4V4.2h5l2 2.4h7v9.8z",
    "gear": (
        "M13 10a3 3 0 1 1-6 0 3 3 0 0 1 6 0z M10 2.6v2.6 M10 14.8v2.6 M2.6 10h2.6"
        " M14.8 10h2.6 M4.8 4.8l1.8 1.8 M13.4 13.4l1.8 1.8 M15.2 4.8l-1.8 1.8"
        " M6.6 13.4l-1.8 1.8"
    ),
    "grip": (
        "M6.4 4.6h1.8 M11.8 4.6h1.8 M6.4 10h1.8 M11.8 10h1.8 M6.4 15.4h1.8"
        " M11.8 15.4h1.8"
    ),
    "info": "M17.1 10a7.1 7.1 0 1 1-14.2 0 7.1 7.1 0 0 1 14.2 0z M10 9.2v4.6 M10 6v1.2",
    "link": (
        "M8.6 11.4a3 3 0 0 0 4.3 0l2.9-2.9a3 3 0 0 0-4.3-4.3L10 5.7"
        " M11.4 8.6a3 3 0 0 0-4.3 0l-2.9 2.9a3 3 0 0 0 4.3 4.3L10 14.3"
    ),
    "list": "M7 5h10 M7 10h10 M7 15h10 M3.2 5h1 M3.2 10h1 M3.2 15h1",
    "lock": "M4.4 9h11.2v8H4.4z M7 9V6.2a3 3 0 0 1 6 0V9 M10 12.2v1.8",
    "mail": "M2.8 4.8h14.4v10.4H2.8z M3 5.2l7 5.8 7-5.8",
    "menu": "M3 5.4h14 M3 10h14 M3 14.6h14",
    "money": "M2.6 5.4h14.8v9.2H2.6z M12.2 10a2.2 2.2 0 1 1-4.4 0 2.2 2.2 0 0 1 4.4 0z",
    "pause": "M7 4.4v11.2 M13 4.4v11.2",
    "pen": "M4 16.2l.9-3.9L13.2 4l3 3-8.3 8.3z M11 17.2h6",
    "people": (
        "M10.2 7a2.7 2.7 0 1 1-5.4 0 2.7 2.7 0 0 1 5.4 0z M2.6 16.6a4.9 4.9 0 0 1 9.8 0"
        " M12.4 4.4a2.7 2.7 0 0 1 .2 5.2 M14 12.2a4.9 4.9 0 0 1 3.4 4.4"
    ),
    "person": "M13 6.6a3 3 0 1 1-6 0 3 3 0 0 1 6 0z M4 17a6 6 0 0 1 12 0",
    "phone": "M6 2.6h8v14.8H6z M9 14.8h2",
    "pin": (
        "M10 17.4C6.6 13.6 5 10.8 5 8a5 5 0 0 1 10 0c0 2.8-1.6 5.6-5 9.4z"
        " M11.6 8a1.6 1.6 0 1 1-3.2 0 1.6 1.6 0 0 1 3.2 0z"
    ),
    "plus": "M10 3.6v12.8 M3.6 10h12.8",
    "print": "M5.6 7V2.8h8.8V7 M5.6 14H3V7h14v7h-2.6 M5.6 11.4h8.8v5.8H5.6z",
    "search": "M13.4 8.4a5 5 0 1 1-10 0 5 5 0 0 1 10 0z M12 12l5 5",
    "skyline": "M2.6 15.4h3.2V9.2h4v6.2h2.8V6h4.8v9.4",
    "sun-high": (
        "M13.2 10a3.2 3.2 0 1 1-6.4 0 3.2 3.2 0 0 1 6.4 0z M10 2.4v2 M10 15.6v2"
        " M2.4 10h2 M15.6 10h2 M4.6 4.6l1.4 1.4 M14 14l1.4 1.4 M15.4 4.6 14 6"
        " M6 14l-1.4 1.4"
    ),
    "sun-low": (
        "M2.6 14.2h14.8 M5.6 14.2a4.4 4.4 0 0 1 8.8 0 M10 4v2.6 M3.6 7.6 5.2 9.2"
        " M16.4 7.6l-1.6 1.6"
    ),
    "tick": "M3.6 10.6 7.6 14.6 16.4 5.6",
    "trash": "M3.6 5.6h12.8 M6 5.6V17h8V5.6 M8 5.6V3.2h4v2.4",
    "tripod": "M7 3.2h6v3.4H7z M10 6.6v4 M10 10.6 5 17.2 M10 10.6l5 6.6 M10 10.6v6.2",
    "undo": "M3.4 8.2h8.8a4.2 4.2 0 0 1 0 8.4H8.4 M7.2 4.4 3.4 8.2 7.2 12",
    "upload": "M10 12.6V3.2 M5.8 7.4 10 3.2l4.2 4.2 M3.4 16.8h13.2",
    "window": "M4 3h12v14H4z M10 3v14 M4 10h12",
}

_RING: Final = "M14 8A6 6 0 1 1 2 8a6 6 0 0 1 12 0z"
_QUARTERS: Final = (
    "",
    "M8 8V2a6 6 0 0 1 6 6z",
    "M8 2a6 6 0 0 1 0 12z",
    "M8 8V2a6 6 0 1 1-6 6z",
    "M8 2a6 6 0 1 1 0 12A6 6 0 0 1 8 2z",
)
_SQUARE: Final = "M2.8 2.8h10.4v10.4H2.8z"
_TICK: Final = ("M2.2 8.6 6.2 12.6 14 3.8", "", "done")
_CROSS: Final = ("M3.6 3.6l8.8 8.8 M12.4 3.6l-8.8 8.8", "", "off")

# Name: what is drawn as a line, what is filled, and the colour the word is set in.
MARKS: Final[dict[str, tuple[str, str, str]]] = {
    "enquiry": (_RING, _QUARTERS[0], ""),
    "quoted": (_RING, _QUARTERS[1], ""),
    "booked": (_RING, _QUARTERS[2], ""),
    "shot": (_RING, _QUARTERS[3], ""),
    "delivered": (_RING, _QUARTERS[4], ""),
    "lost": _CROSS,
    "cancelled": _CROSS,
    "proposed": (_RING, "", ""),
    "pencilled": (_RING, "M10.4 8a2.4 2.4 0 1 1-4.8 0 2.4 2.4 0 0 1 4.8 0z", ""),
    "confirmed": (_RING, _QUARTERS[4], ""),
    "completed": _TICK,
    "late": (_SQUARE, _SQUARE, "late"),
    "open": (_SQUARE, "", ""),
    "part": (_SQUARE, "M2.8 8h10.4v5.2H2.8z", ""),
    "paid": _TICK,
    "done": _TICK,
    "credit": ("M2.4 8h11.2", "", "off"),
    "off": _CROSS,
    "waiting": (f"{_RING} M8 4.6V8l2.4 1.6", "", ""),
    "risky": ("M8 2.2 14.2 13.6H1.8z M8 6.4v3.4 M8 11.2v.9", "", "late"),
}
