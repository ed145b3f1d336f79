"""The set-up editor in a browser: typed, turned by key, dragged, and without script."""

from __future__ import annotations

import re
from math import cos, radians, sin
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_whole_job import Desk, chromium, demo
from tests.machine import new_machine
from tests.studio.start.test_start import AS_SHIPPED, free_port

pytestmark = [
    pytest.mark.browser,
    pytest.mark.script,
    pytest.mark.usefixtures("django_db_setup"),
]


def test_a_set_up_is_turned_by_button_key_and_hand(tmp_path: Path) -> None:
    port = free_port()
    base = f"http://127.0.0.1:{port}"
    with (
        new_machine(tmp_path / "var", migrated=True, **AS_SHIPPED) as machine,
        demo(machine, tmp_path / "log", port) as passwords,
        chromium() as browser,
    ):
        planner = Desk(browser, base)
        planner.sign_in("jory", passwords["jory"])
        page = open_editor(planner)
        type_a_distance(page)
        turn_by_button(page)
        turn_by_key(page)
        turn_by_hand(page)
        save(planner)
        assert planner.complaints == []
        turn_without_script(browser, base, passwords["jory"], page.url)


def open_editor(planner: Desk) -> Page:
    page = planner.page
    page.goto(f"{planner.base}/jobs/")
    page.get_by_role("link", name=re.compile("Saltpan Brass")).first.click()
    planner.follow("Change set-up 3")
    page.wait_for_url("**/plan/set-up/**")
    return page


def type_a_distance(page: Page) -> None:
    before = page.inner_text("#now")
    page.fill("#id_distance_m", "3.5")
    expect(page.locator("#now")).not_to_have_text(before)


def turn_by_button(page: Page) -> None:
    before = page.input_value("#id_heading")
    page.get_by_role("button", name="Sun left").click()
    expect(page.locator("#id_heading")).not_to_have_value(before)


def turn_by_key(page: Page) -> None:
    before = int(page.input_value("#to_heading"))
    page.focus("#to_heading")
    page.keyboard.press("ArrowRight")
    expect(page.locator("#id_heading")).to_have_value(str(before + 5))
    # the slider was drawn anew, and still has the focus
    expect(page.locator("#to_heading")).to_be_focused()


def turn_by_hand(page: Page) -> None:
    box = page.locator("[data-dial] svg").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    behind = radians(float(page.input_value("#to_heading")) + 180.0)
    reach = 0.6 * 0.76 * box["width"] / 2
    page.mouse.move(x + reach * sin(behind), y - reach * cos(behind))
    page.mouse.down()
    page.mouse.move(x + reach, y, steps=4)  # due east: the camera looks west
    page.mouse.up()
    expect(page.locator("#id_heading")).to_have_value("270")


def save(planner: Desk) -> None:
    planner.press("Save set-up")
    planner.page.wait_for_url(re.compile(r"/plan/\d+/$"))
    planner.sees("is changed")
    planner.follow("Change set-up 3")
    planner.page.wait_for_url("**/plan/set-up/**")
    assert float(planner.page.input_value("#id_heading")) == 270.0


def turn_without_script(browser: Browser, base: str, password: str, url: str) -> None:
    page = browser.new_context(java_script_enabled=False).new_page()
    page.goto(f"{base}/account/login/")
    page.fill("#id_login", "jory")
    page.fill("#id_password", password)
    page.press("#id_password", "Enter")
    page.goto(url)
    page.fill("#id_note", "Kept through the turn")
    page.get_by_role("button", name="Sun ahead").click()
    assert page.input_value("#id_heading") != "270.0"
    assert page.input_value("#id_note") == "Kept through the turn"
