"""Opened without a signal, the phone shows its job list before the app's script has run, and says of when."""

import re
import time

import pytest
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
from tests.browser.serving import Server
from tests.browser.test_hard_days import open_job

pytestmark = pytest.mark.browser

IS_KEPT = """async () => {
  for (const name of (await caches.keys()).filter((one) => one.startsWith('slabtide-page-'))) {
    const page = await (await caches.open(name)).match('/');
    const text = page ? await page.text() : '';
    if (text.includes('Lark Hill') && /<html[^>]*data-theme="night"/.test(text)) return true;
  }
  return false;
}"""
# How each thing of the list is drawn, places and sizes apart, which follow from what else is on the screen.
STYLES = """
const styles = () => Object.fromEntries(
  ['.shell', '.shell-head', '.shell-main', '.look-screen', '.look-screen-head', '[data-screen-title]',
   '.shell-jobs', '.shell-job', '.shell-job-name', '.shell-job-phase'].map((selector) => {
    const found = getComputedStyle(document.querySelector(selector));
    const places = /^(top|left|height|width|(block|inline)-size|.*-origin|grid-template-.*|inset.*)$/;
    return [selector, Object.fromEntries([...found].filter((name) => !places.test(name))
      .map((name) => [name, found.getPropertyValue(name)]))];
  }));
"""
# What stands in the first frame that has a screen's heading.
FIRST_FRAME = f"""{STYLES}
const look = () => {{
  if (!document.querySelector('[data-screen-title]')) return requestAnimationFrame(look);
  const row = document.querySelector('.shell-job');
  globalThis.firstFrame = {{
    head: document.querySelector('.shell-head')?.textContent,
    jobs: [...document.querySelectorAll('.shell-job-name')].map(({{ textContent }}) => textContent),
    tall: row?.getBoundingClientRect().height ?? 0,
    way: row?.getAttribute('href'),
    night: document.documentElement.dataset.theme,
    styles: styles(),
    ofTheApp: document.querySelector('#shell-main') !== null,
  }};
}};
requestAnimationFrame(look);
"""


def wait_until_kept(phone: Phone, within_s: float = 30) -> None:
    deadline = time.monotonic() + within_s
    while not phone.page.evaluate(IS_KEPT):
        assert time.monotonic() < deadline, "the list was not kept"
        time.sleep(0.1)


def opened_again(phone: Phone) -> Phone:
    """The app shut, and opened without a signal."""
    phone.page.close()
    phone.context.set_offline(True)
    phone.context.add_init_script(FIRST_FRAME)
    phone.take(phone.context.new_page())
    phone.page.goto(f"{phone.server.base_url}/")
    return phone


def test_the_list_of_the_last_time_is_there_at_once_with_its_age_and_its_ways(
    open_phone: OpenPhone, server: Server
) -> None:
    open_job(server.enrol("foreman", "Wes Holm"))
    crew = open_phone()
    join(crew, "crew", "Luis Ortega")
    crew.page.get_by_role("link", name=re.compile("Lark Hill")).wait_for()
    crew.page.evaluate("localStorage.setItem('slabtide.light', 'night')")
    crew.page.reload()
    wait_until_kept(crew)
    again = opened_again(crew).page
    again.locator("#shell-main").get_by_role("link", name=re.compile("Lark Hill")).wait_for()
    first = again.evaluate("firstFrame")
    assert not first["ofTheApp"], "the app's script was quicker, which this test can't tell apart"
    assert re.fullmatch(r"Opening\. The list as of .+\d:\d\d.*\.", first["head"])
    assert [name for name in first["jobs"] if "Lark Hill" in name]
    assert first["way"].startswith("#/job/")
    assert first["tall"] >= 48, "its style was not let in"
    assert first["night"] == "night"
    again.evaluate("document.activeElement.blur()")  # the app puts the reader's place on the heading
    app = again.evaluate(f"(() => {{{STYLES} return styles(); }})()")
    for thing, drawn in app.items():
        assert first["styles"][thing] == drawn, f"{thing} is drawn otherwise until the app has its own sheet"
    assert again.locator("[data-first-look]").count() == 0, "something of the first look was left behind"
    [start] = again.evaluate("performance.getEntriesByType('navigation').map((one) => one.toJSON())")
    assert start.get("deliveryType") == "cache-storage", "the way past the worker was not taken"
    assert crew.complaints == []
