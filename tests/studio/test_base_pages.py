"""The frames that every page stands in, drawn alone."""

import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.template import Context
from django.template.loader import get_template, render_to_string
from django.test import RequestFactory

from tests.studio.markup import Markup

ERRORS = ("400", "403", "403_csrf", "404", "500", "503")
STUDIO = SimpleNamespace(
    trading_name="Ada Portraits",
    owner_name="Ada",
    phone="+441632960101",
    address="3 Tallow Lane\nPriorsby",
    tax_registered=False,
)
PLACES = [
    SimpleNamespace(label="Today", url="/today/", current=True),
    SimpleNamespace(label="Kit and places", url="/kit/", current=False),
]


def page(name: str, **context: Any) -> Markup:
    request = RequestFactory().get("/today/")
    request.user = SimpleNamespace(  # type: ignore[assignment]
        is_authenticated=True, name="Ada", hat_words="Owner", may=lambda _: True
    )
    template = get_template(name).template  # type: ignore[attr-defined]
    values = {"request": request, "nav": PLACES, "studio": STUDIO, **context}
    return Markup(template.render(Context(values)))


@pytest.mark.parametrize("name", ERRORS)
def test_an_error_page_asks_for_nothing(name: str) -> None:
    markup = Markup(render_to_string(f"{name}.html"))

    assert markup.forbidden() == []
    assert markup.of("script") == []
    assert len(markup.of("h1")) == 1
    assert "{" not in markup.words


@pytest.mark.parametrize(
    "name",
    ["base.html", "setup_base.html", "client_base.html", "location_base.html"],
)
def test_a_frame_has_nothing_inline_and_nothing_dangling(name: str) -> None:
    markup = page(name)

    assert markup.forbidden() == []
    assert markup.dangling() == []
    assert len(markup.ids) == len(set(markup.ids))
    assert len(markup.of("main", id="main")) == 1


def test_htmx_is_kept_within_the_policy() -> None:
    (config,) = page("base.html").of("meta", name="htmx-config")

    for switch in ("includeIndicatorStyles", "allowEval", "allowScriptTags"):
        assert f'"{switch}":false' in config["content"]


def test_the_place_one_is_in_is_said() -> None:
    markup = page("base.html")

    assert [link["href"] for link in markup.of("a", **{"aria-current": "page"})] == [
        "/today/"
    ]


def test_one_signs_out_by_posting() -> None:
    forms = page("base.html").of("form", method="post")

    assert [form["action"] for form in forms] == ["/account/logout/"]


def test_a_clients_page_shows_the_studio_and_is_not_indexed() -> None:
    markup = page("client_base.html")

    assert "noindex" in markup.of("meta", name="robots")[0]["content"]
    assert markup.of("a", href="tel:+441632960101")
    assert "3 Tallow Lane, Priorsby" in markup.words
    assert "Northsill" not in markup.words


def test_every_file_that_a_frame_names_is_there() -> None:
    for name in ("base.html", "setup_base.html", "client_base.html"):
        markup = page(name)
        links = [link["href"] for link in markup.of("link")]
        links += [script["src"] for script in markup.of("script")]
        for link in links:
            assert finders.find(link.removeprefix(settings.STATIC_URL)), link


def test_style_sheets_load_nothing_from_elsewhere() -> None:
    for path in Path(settings.BASE_DIR, "studio/static/css").glob("*.css"):
        text = path.read_text()
        assert "@import" not in text
        assert "http" not in text
        assert len(text.splitlines()) <= 350


def test_every_name_in_a_style_sheet_is_declared() -> None:
    sheets = Path(settings.BASE_DIR, "studio/static/css").glob("*.css")
    text = "\n".join(path.read_text() for path in sheets)

    used = set(re.findall(r"var\((--[a-z0-9-]+)\)", text))
    declared = set(re.findall(r"(--[a-z0-9-]+):", text))

    assert used <= declared


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [
        p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one: str, two: str) -> float:
    light, dark = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(
    ("text", "ground", "least"),
    [
        ("ink", "white", 7.0),
        ("ink", "sun", 7.0),
        ("g600", "g100", 4.5),
        ("g700", "white", 7.0),
        ("dusk", "g100", 4.5),
        ("white", "dusk", 4.5),
        ("dusk-deep", "dusk-tint", 4.5),
        ("rust", "white", 4.5),
        ("rust", "rust-tint", 4.5),
        ("moss", "white", 4.5),
        ("g300", "ink", 4.5),
        ("g300", "g700", 4.5),
        ("g500", "white", 3.0),
        ("sun", "ink", 3.0),
    ],
)
def test_colours_stand_out_from_their_ground(
    text: str, ground: str, least: float
) -> None:
    # WCAG 2.2, 1.4.3 and 1.4.11: 4.5 for text, 3 for borders and focus rings.
    tokens = Path(settings.BASE_DIR, "studio/static/css/tokens.css").read_text()
    colours = dict(re.findall(r"--([a-z0-9-]+): (#[0-9a-f]{6});", tokens))

    assert _contrast(colours[text], colours[ground]) >= least
