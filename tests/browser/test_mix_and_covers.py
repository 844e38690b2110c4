"""Without a signal: the mix has its pace as soon as it is told; a blanket counts until it is taken back."""

import re
from typing import Any

import pytest
from tests.browser.acting import fill, open_part, press, save
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
from tests.browser.plan import Site, plan_job
from tests.browser.pour import log_load, wait_for_sync_line
from tests.browser.serving import Server
from tests.browser.test_engine_on_the_phone import FOREMAN, loads_worked_out, wait_for_engine, wait_until


def said(phone: Phone, job: str, words: str) -> Any:
    """The times as this phone last worked them out, once what they assume holds these words."""
    found = loads_worked_out(phone, job, 1)
    return found if found and any(words in line for line in found["assumptions"]) else None


@pytest.mark.browser
def test_the_mix_has_a_pace_at_once_and_a_blanket_counts_until_it_is_taken_back(
    open_phone: OpenPhone, server: Server
) -> None:
    foreman = open_phone()
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=3, lead=FOREMAN)
    wait_for_sync_line(foreman, "All sent.")
    wait_for_engine(foreman)
    foreman.wait_for_service_worker()
    foreman.context.set_offline(True)

    foreman.go(f"/job/{job}/layout")
    mix = open_part(foreman.page, "Mix")
    fill(mix, "Mix", "Slow 4000")
    mix.get_by_text("Usual mix: sets about when most do.").wait_for()
    press(mix, "What is in it")
    press(mix, "Retarder (B)")
    press(mix, "half")
    mix.get_by_text("Slow mix: sets about 20 % later than the usual mix.").wait_for()
    save(mix)
    mix.get_by_text("Retarder (B), half dose").wait_for()

    log_load(foreman, job, site, 1, 2.2)
    foreman.go(f"/job/{job}/next-days")
    press(foreman.page, "Blanket laid")
    foreman.page.get_by_text("Curing blanket, whole slab").first.wait_for()
    wait_until(lambda: said(foreman, job, "blanket"), "times that count with the blanket")
    press(foreman.page, "Take back: Curing blanket, whole slab")
    foreman.page.get_by_text("Nothing lies on the slab.").wait_for()
    wait_until(
        lambda: (found := loads_worked_out(foreman, job, 1)) and "blanket" not in str(found["assumptions"]),
        "times without it",
    )
    foreman.page.get_by_role("heading", name=re.compile("side by side")).wait_for()
    assert foreman.complaints == []
