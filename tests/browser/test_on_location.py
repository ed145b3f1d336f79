"""A whole session run on a phone with one thumb, part of it without the network."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from tests.browser.test_whole_job import chromium, demo
from tests.machine import new_machine
from tests.studio.start.test_start import AS_SHIPPED, free_port

pytestmark = [
    pytest.mark.browser,
    pytest.mark.script,
    pytest.mark.usefixtures("django_db_setup"),
]
PHONE = ViewportSize(width=390, height=844)
KEPT = "document.querySelector('[data-location]').keptItems().length"
LEAST_TARGET_PX = 44.0  # WCAG 2.2, success criterion 2.5.5 (published)


def test_a_session_is_run_with_one_thumb(tmp_path: Path) -> None:
    port = free_port()
    base = f"http://127.0.0.1:{port}"
    with (
        new_machine(tmp_path / "var", migrated=True, **AS_SHIPPED) as machine,
        demo(machine, tmp_path / "log", port) as passwords,
        chromium() as browser,
    ):
        page = signed_in(browser, base, passwords["jory"])
        open_location(page, base)
        targets_are_large(page)
        first = heading(page)
        expect(page.locator("[data-is-kept]")).to_be_attached()
        page.context.set_offline(True)
        done(page)
        expect(page.locator("[data-kept]")).to_contain_text("on this phone, 1 to send")
        second = heading(page)
        assert second != first
        undo_and_skip(page, first, second)
        learn_from_a_frame(page)
        expect(page.locator("[data-kept]")).to_contain_text("on this phone, 4 to send")
        page.reload()
        expect(page.get_by_text("From this phone, as of")).to_be_visible()
        expect(page.locator("[data-kept]")).to_contain_text("on this phone, 4 to send")
        assert heading(page) == second
        while (
            page.get_by_role("button", name="Done, next").filter(visible=True).count()
        ):
            done(page)
        take_back(page)
        page.context.set_offline(False)
        expect(page.locator("[data-kept]")).to_contain_text(
            re.compile("Kept: .*planned")
        )
        all_is_sent(page)
        page.reload()
        expect(page.get_by_text("From this phone, as of")).to_be_hidden()
        assert jumps_done(page) == page.locator("[data-jump]").count() - 1


def signed_in(browser: Browser, base: str, password: str) -> Page:
    context = browser.new_context(viewport=PHONE, has_touch=True)
    page = context.new_page()
    page.set_default_timeout(15_000)
    page.goto(f"{base}/account/login/")
    page.fill("#id_login", "jory")
    page.fill("#id_password", password)
    page.get_by_role("button", name="Sign in").first.click()
    page.wait_for_url("**/today/")
    return page


def open_location(page: Page, base: str) -> None:
    page.goto(f"{base}/jobs/")
    page.get_by_role("link", name=re.compile("Saltpan Brass")).first.click()
    page.get_by_role("link", name="On location").click()
    page.wait_for_url("**/location/")
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]


def targets_are_large(page: Page) -> None:
    for one in (
        page.locator("main a, main button, main summary").filter(visible=True).all()
    ):
        box = one.bounding_box()
        assert box is not None
        assert box["height"] >= LEAST_TARGET_PX, one.inner_text()
    box = shown(page, "Done, next set-up").bounding_box()
    assert box is not None
    assert PHONE["height"] / 3 < box["y"] < PHONE["height"]


def shown(page: Page, name: str) -> Locator:
    return page.get_by_role("button", name=name).filter(visible=True).first


def heading(page: Page) -> str:
    return page.locator("h1").filter(visible=True).inner_text()


def done(page: Page) -> None:
    shown(page, "Done, next set-up").tap()


def take_back(page: Page) -> None:
    shown(page, "Take “done” back").tap()


def undo_and_skip(page: Page, first: str, second: str) -> None:
    """Take the tap back, skip on, and jump back to make it again: two more to send."""
    shown(page, "Undo").tap()
    assert heading(page) == first
    page.get_by_role("link", name="Skip").filter(visible=True).tap()
    assert heading(page) == second
    page.locator("[data-jump]").first.tap()
    done(page)


def all_is_sent(page: Page) -> None:
    """Wait until nothing is kept on the phone: what was told first is not the last."""
    for _ in range(300):
        if not page.evaluate(KEPT):
            return
        page.wait_for_timeout(100)
    raise AssertionError("something is kept on the phone still")


def jumps_done(page: Page) -> int:
    return sum("done" in one.inner_text() for one in page.locator("[data-jump]").all())


def learn_from_a_frame(page: Page) -> None:
    page.get_by_text("Write what worked").tap()
    page.fill("#id_f_number", "4")
    page.fill("#id_shutter", "1/250")
    page.fill("#id_iso", "400")
    page.fill("#id_taken_at", "14:00")
    page.get_by_role("button", name="Keep it").tap()
