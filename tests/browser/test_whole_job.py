"""The whole job, clicked through in a browser: from an enquiry to paid."""

from __future__ import annotations

import email
import email.policy
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from tests.machine import ROOT, Machine, new_machine
from tests.studio.start.test_start import AS_SHIPPED, free_port, wait_for

pytestmark = pytest.mark.browser
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
CLIENT = '<img src="file:///etc/passwd"/> & Söhne'
DAY = date.today() + timedelta(days=20)  # noqa: DTZ011 - any day ahead will do


@contextmanager
def demo(machine: Machine, log: Path, port: int) -> Iterator[dict[str, str]]:
    """Run the README's first command; give the passwords that it prints."""
    with log.open("w") as out:
        process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--demo", "--port", str(port)],
            cwd=ROOT,
            env=machine.environment,
            stdout=out,
            stderr=subprocess.STDOUT,
            text=True,
        )
        try:
            said = wait_for(lambda: "Ctrl-C" in log.read_text(), for_s=180)
            assert said, log.read_text()
            yield dict(re.findall(r"^  (\w+) +(\S+)$", log.read_text(), re.MULTILINE))
        finally:
            process.terminate()
            process.wait(60)


@contextmanager
def chromium() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        yield browser
        browser.close()


class Desk:
    """Somebody at a screen, who notices every complaint of the browser."""

    def __init__(self, browser: Browser, base: str) -> None:
        self.page: Page = browser.new_context(
            viewport={"width": 1320, "height": 900}
        ).new_page()
        self.page.set_default_timeout(15_000)
        self.base, self.complaints = base, list[str]()
        self.page.on("console", self._hear)

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.complaints.append(f"{self.page.url}: {message.text}")

    def sign_in(self, name: str, password: str) -> None:
        self.page.goto(f"{self.base}/account/login/")
        self.page.fill("#id_login", name)
        self.page.fill("#id_password", password)
        self.press("Sign in")
        self.page.wait_for_url("**/today/")

    def press(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=False).first.click()

    def follow(self, name: str) -> None:
        self.page.get_by_role("link", name=name, exact=False).first.click()

    def sees(self, words: str) -> None:
        self.page.get_by_text(words).filter(visible=True).first.wait_for()


def letter_to(machine: Machine, address: str, subject: str) -> str:
    """Return the words of a letter that went into the folder of mail."""

    def look() -> str:
        for path in sorted((machine.var / "mail").glob("*.eml")):
            letter = email.message_from_bytes(
                path.read_bytes(), policy=email.policy.default
            )
            if address in str(letter["To"]) and subject in str(letter["Subject"]):
                body = letter.get_body(("plain",))
                return str(body.get_content()) if body else ""
        return ""

    found = wait_for(look, for_s=40)
    assert found, f"no letter to {address} about {subject}"
    return str(found)


def test_one_job_is_carried_from_enquiry_to_paid(tmp_path: Path) -> None:
    port = free_port()
    base = f"http://127.0.0.1:{port}"
    with (
        new_machine(tmp_path / "var", migrated=False, **AS_SHIPPED) as machine,
        demo(machine, tmp_path / "log", port) as passwords,
        chromium() as browser,
    ):
        owner = Desk(browser, base)
        owner.sign_in("maren", passwords["maren"])
        job = ask_and_quote(owner)
        give_a_session(owner, job)
        drag_in_the_diary(owner)
        send_the_quote(owner, job)
        words = letter_to(machine, "soehne@client.example", "Q-")
        link = re.search(r"http://\S+/p/quote/\S+", words)
        assert link, words
        client = Desk(browser, base)
        say_yes(client, link.group())
        plan_and_call(owner, job)
        get_paid(owner, job)
        assert owner.complaints == []
        assert client.complaints == []


def ask_and_quote(owner: Desk) -> str:
    """Take an enquiry down and save the first draft of its quote."""
    page = owner.page
    owner.follow("New enquiry")
    page.fill("#id_name", CLIENT)
    page.fill("#id_phone", "01632 960177")
    page.fill("#id_email", "soehne@client.example")
    page.fill("#id_wish", "A portrait of all of us on the sand")
    owner.press("Save and quote")
    page.fill("#id_line-0-description", "Session on the sand")
    page.fill("#id_line-0-price", "420")
    page.locator("#totals").get_by_text("£420.00").first.wait_for()
    owner.press("Save draft")
    owner.sees("The draft is saved")
    href = page.locator(".crumbs a").last.get_attribute("href")
    assert href
    return href


def give_a_session(owner: Desk, job: str) -> None:
    """Give the job a place, a day and kit."""
    page = owner.page
    page.goto(f"{owner.base}{job}session/")
    page.select_option("#id_place", index=2)
    page.fill("#id_day", DAY.isoformat())
    page.fill("#id_starts", "13:00")
    page.fill("#id_ends", "15:00")
    page.locator("main form button[type=submit].main").first.click()
    page.wait_for_url(f"**{job}")


def drag_in_the_diary(owner: Desk) -> None:
    """Take the session along by key and by hand, and see what a move would touch."""
    page = owner.page
    page.goto(f"{owner.base}/diary/?on={DAY}")
    row = page.locator(f'[data-on="{DAY}"]')
    handle = row.locator('[data-handle][data-starts="13:00"]').last
    handle.press("ArrowRight")
    owner.sees(f"{DAY:%b}, 13:15. Enter shows what it touches.")
    handle.press("Escape")
    owner.sees("Left where it is.")
    shown = [int(row.get_attribute(f"data-{end}") or 0) for end in ("first", "last")]
    box, strip = handle.bounding_box(), row.locator(".strip").first.bounding_box()
    assert box
    assert strip
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    hour = strip["width"] / (shown[1] - shown[0]) * 60
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + hour, y, steps=3)
    owner.sees(f"{DAY:%b}, 14:00")
    page.mouse.up()
    page.wait_for_url(f"**/move/?day={DAY}&starts=14%3A00")
    owner.sees("What it touches")
    drag_in_a_narrow_month(page, owner.base)


def drag_in_a_narrow_month(page: Page, base: str) -> None:
    """On a phone the month's free days show for as long as a session is moved."""
    wide = page.viewport_size
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{base}/diary/?view=month&on={DAY}")
    free = page.locator(".month td.free").first
    handle = page.locator("[data-handle]").first
    for key, is_shown in (("ArrowDown", True), ("Escape", False)):
        handle.press(key)
        expect(free).to_be_visible(visible=is_shown)
    if wide:
        page.set_viewport_size(wide)


def send_the_quote(owner: Desk, job: str) -> None:
    """Review the quote and send it."""
    owner.page.goto(f"{owner.base}{job}")
    owner.follow("Quote")
    owner.press("Send to client")
    owner.press("Send")
    owner.sees("on its way")


def say_yes(client: Desk, link: str) -> None:
    """Read the quote without signing in, and accept it."""
    page = client.page
    page.goto(link)
    client.sees("£420.00")
    page.fill("#id_name", "Hanne Söhne")
    client.press("Accept and agree to pay")
    client.sees("It is not a tax invoice.")
    client.sees("Pay £")


def plan_and_call(owner: Desk, job: str) -> None:
    """Plan a set-up, tick the kit, make the call sheet and send it."""
    page = owner.page
    page.goto(f"{owner.base}{job}")
    owner.follow("Add set-up")
    page.fill("#id_name", "On the sand, facing south")
    page.fill("#id_start", "13:15")
    page.fill("#id_heading", "20")
    owner.press("Save set-up")
    owner.sees("is in the plan")
    owner.sees("f/")
    owner.follow("Kit checklist")
    page.locator("input[type=checkbox]").first.check()
    page.goto(f"{owner.base}{job}")
    owner.press("Make call sheet")
    owner.sees("version 1")
    page.get_by_label("Send it all the same").check()
    owner.press("Send version 1")
    owner.sees("Version 1 is on its way")


def get_paid(owner: Desk, job: str) -> None:
    """Take the deposit, note the shoot, invoice the rest, and be paid."""
    page = owner.page
    page.goto(f"{owner.base}{job}")
    owner.follow("Deposit received")
    owner.press("Save payment")
    owner.sees("Confirmed:")
    page.goto(f"{owner.base}{job}")
    note_shot(owner)
    owner.press("Draft the balance")
    owner.press("Issue invoice")
    owner.sees("is issued")
    owner.follow("Record payment")
    owner.press("Save payment")
    owner.sees("The payment is recorded")
    page.goto(f"{owner.base}{job}")
    deliver(owner)
    closed = wait_for(lambda: is_closed(owner, job), for_s=180)
    assert closed


def note_shot(owner: Desk) -> None:
    owner.follow("Mark as shot")
    owner.page.locator("main form button[type=submit].main").first.click()


def deliver(owner: Desk) -> None:
    owner.press("delivered")


def is_closed(owner: Desk, job: str) -> bool:
    time.sleep(1)
    owner.page.goto(f"{owner.base}{job}")
    return owner.page.get_by_text("Closed, paid").count() > 0
