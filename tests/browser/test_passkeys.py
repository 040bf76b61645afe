"""Passkeys in a real browser, with a virtual authenticator, under the content security policy."""

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Site

OFFICE = "priya@ninebark.example"  # nobody whom another test signs in: from now on a second step is asked


def give_authenticator(page: Page) -> None:
    """Give the browser an authenticator that says yes (W3C Web Authentication, section 11: test automation)."""
    tools = page.context.new_cdp_session(page)
    tools.send("WebAuthn.enable")
    options = {
        "protocol": "ctap2",
        "transport": "internal",
        "hasResidentKey": True,
        "hasUserVerification": True,
        "isUserVerified": True,
        "automaticPresenceSimulation": True,
    }
    tools.send("WebAuthn.addVirtualAuthenticator", {"options": options})


@pytest.fixture
def page(site: Site) -> Page:
    """Give a page on a host that has a name, for passkeys belong to names and not to numbers."""
    page = site.visitor()
    give_authenticator(page)
    return page


def test_it_adds_a_passkey_and_signs_in_with_it(site: Site, page: Page) -> None:
    """The key is made, recovery codes are shown, the key alone signs in, and the password alone no longer does."""
    home = site.origin.replace("127.0.0.1", "localhost")
    page.goto(f"{home}/account/login/")
    page.locator("input[name=login]").fill(OFFICE)
    page.locator("input[name=password]").fill(site.password)
    page.locator("main form button").first.click()
    page.wait_for_url(lambda url: "/account/login/" not in url)
    page.goto(f"{home}/account/passkeys/new/")
    if "reauthenticate" in page.url:
        page.locator("input[name=password]").fill(site.password)
        page.locator("main form button").first.click()
        page.wait_for_url("**/account/passkeys/new/")
    page.locator("input[name=passwordless]").check()
    page.locator("#passkey-button").click()
    page.wait_for_url("**/account/two-step/recovery/")
    codes = page.locator(".codes li").count()
    page.goto(f"{home}/account/passkeys/")
    keys = page.locator("main .rows > li").count()

    page.locator("form[action='/account/logout/'] button").click()
    page.goto(f"{home}/account/login/")
    page.locator("#passkey-button").click()
    page.wait_for_url(lambda url: "/account/login/" not in url)
    page.goto(f"{home}/settings/")
    by_key = page.url
    page.locator("form[action='/account/logout/'] button").click()
    page.goto(f"{home}/account/login/")
    page.locator("input[name=login]").fill(OFFICE)
    page.locator("input[name=password]").fill(site.password)
    page.locator("main form button").first.click()
    page.wait_for_url("**/account/two-step/code/")
    page.locator("#passkey-button").click()
    page.wait_for_url(lambda url: "/account/" not in url)

    assert (codes, keys) == (10, 1)
    assert by_key == f"{home}/settings/"
    assert page.complaints == []  # type: ignore[attr-defined]
