"""A link lets one person in, once; what goes wrong is said with what to do about it."""

import re
import sqlite3
from urllib.request import urlopen

import pytest
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.serving import Server

pytestmark = pytest.mark.browser


def try_to_join(name: str, open_phone: OpenPhone, code: str) -> str:
    """Opens the link as someone new, and gives what the screen says went wrong."""
    phone = open_phone(engine=False)
    phone.go(f"/join/{code}")
    phone.page.get_by_label("Your name").fill(name)
    phone.page.get_by_role("button", name="Join", exact=True).click()
    alert = phone.page.get_by_role("alert").filter(has_text="Not joined")
    alert.wait_for()
    return alert.inner_text()


def test_each_role_lands_on_its_own_home(open_phone: OpenPhone) -> None:
    homes = {"crew": "#/jobs", "foreman": "#/now", "office": "#/board"}
    for role, home in homes.items():
        phone = open_phone(engine=False)
        join(phone, role, f"Sam {role}")
        phone.page.wait_for_url(re.compile(re.escape(home) + "$"))
        assert not phone.complaints


def test_an_expired_link_says_so_and_what_to_do(open_phone: OpenPhone, server: Server) -> None:
    code = server.invite("crew")
    with sqlite3.connect(server.home / "slabtide.db") as database:
        database.execute("UPDATE invite SET expires_at = '2020-01-01T00:00:00.000000Z'")
    database.close()
    said = try_to_join("Late Comer", open_phone, code)
    assert "too old or was used" in said
    assert "Ask for a new one" in said


def test_a_used_link_lets_no_second_person_in(open_phone: OpenPhone, server: Server) -> None:
    code = server.invite("crew")
    phone = open_phone(engine=False)
    phone.go(f"/join/{code}")
    phone.page.get_by_label("Your name").fill("First One")
    phone.page.get_by_role("button", name="Join", exact=True).click()
    phone.page.wait_for_url(re.compile("#/jobs$"))
    assert "too old or was used" in try_to_join("Second One", open_phone, code)


def test_looking_at_a_link_does_not_spend_it(open_phone: OpenPhone, server: Server) -> None:
    code = server.invite("crew")
    for _ in range(3):  # a preview fetches the page; the code is behind the # and is not even sent
        with urlopen(f"{server.base_url}/#/join/{code}") as answer:
            assert answer.status == 200
    phone = open_phone(engine=False)
    phone.go(f"/join/{code}")
    phone.page.get_by_label("Your name").fill("Still In")
    phone.page.get_by_role("button", name="Join", exact=True).click()
    phone.page.wait_for_url(re.compile("#/jobs$"))
