"""A person's phone as a test holds it: a browser context of its own, its network, its notifications."""

import json
from typing import Any

from playwright.sync_api import Browser, Page
from tests.browser.serving import Server

# Chromium closes when a page subscribes to push without a push service, so the page is given the test's own.
SUBSCRIBE_TO = """(subscription) => {
  const answers = { expirationTime: null, toJSON: () => subscription, unsubscribe: async () => true };
  const made = { ...subscription, ...answers };
  PushManager.prototype.subscribe = async () => made;
  PushManager.prototype.getSubscription = async () => made;
}"""

# A script may not extend the life of an event it made itself, so the promise is caught and awaited here.
PRESS_ACTION = """async ([tag, action]) => {
  const [notification] = await self.registration.getNotifications({ tag });
  const waits = [];
  const event = new NotificationEvent('notificationclick', { notification, action });
  event.waitUntil = (promise) => waits.push(promise);
  self.dispatchEvent(event);
  await Promise.all(waits);
  return waits.length;
}"""

# One tab works for all: the engine stays off in a page while another holds this.
HELD_ELSEWHERE = "navigator.locks?.request('slabtide-engine', () => new Promise(() => {}))"


class Phone:
    def __init__(
        self,
        browser: Browser,
        server: Server,
        width: int = 390,
        height: int = 844,
        locale: str = "en-US",
        sharp: bool = False,
        engine: bool = True,
        time_zone: str | None = None,
    ) -> None:
        """`engine=False` where nothing is asked of the engine on the phone: its start takes 5 s of a core.
        `time_zone=None` is this machine's."""
        self.server = server
        self.context = browser.new_context(
            viewport={"width": width, "height": height},
            locale=locale,
            device_scale_factor=2 if sharp else 1,
            timezone_id=time_zone,
        )
        if not engine:
            self.context.add_init_script(HELD_ELSEWHERE)
        self.complaints: list[str] = []
        self.take(self.context.new_page())

    def take(self, page: Page) -> None:
        """The page that the phone shows from now on."""
        self.page = page
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._listen)

    def _listen(self, message: Any) -> None:
        if message.type == "error" and "Failed to load resource" not in message.text:
            self.complaints.append(message.text)

    def open_anew(self) -> None:
        """The app shut, and an empty page in its place; what the phone keeps is still there."""
        self.page.close()
        self.complaints.clear()
        self.take(self.context.new_page())

    def close(self) -> None:
        self.context.close()

    def use_push_service(self, subscription: dict[str, Any]) -> None:
        """From now on this phone allows notifications, and its browser answers `subscribe` with this."""
        self.context.grant_permissions(["notifications"], origin=self.server.base_url)
        self.context.add_init_script(f"({SUBSCRIBE_TO})({json.dumps(subscription)})")

    def go(self, route: str) -> None:
        self.page.goto(f"{self.server.base_url}/#{route}")

    def settle(self) -> None:
        """Until nothing is fetched any more and two frames were drawn."""
        self.page.wait_for_load_state("networkidle")
        self.page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def wait_for_service_worker(self) -> None:
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        # A worker that controls the page has the whole app in its cache.
        self.page.wait_for_function("navigator.serviceWorker.controller !== null")

    def deliver(self, data: dict[str, Any]) -> None:
        """Hands the service worker a push message, as the browser does when one arrives."""
        devtools = self.context.new_cdp_session(self.page)
        known: list[dict[str, Any]] = []
        devtools.on(
            "ServiceWorker.workerRegistrationUpdated", lambda told: known.extend(told["registrations"])
        )
        devtools.send("ServiceWorker.enable")
        for _ in range(100):
            if known:
                break
            self.page.wait_for_timeout(50)  # lets the browser's events in
        message = {
            "origin": self.server.base_url,
            "registrationId": known[-1]["registrationId"],
            "data": json.dumps(data),
        }
        devtools.send("ServiceWorker.deliverPushMessage", message)
        devtools.detach()

    def notifications(self) -> list[dict[str, Any]]:
        """What lies in the phone's tray."""
        shown: list[dict[str, Any]] = self.page.evaluate(
            """async () => {
              const ready = await navigator.serviceWorker.ready;
              const all = await ready.getNotifications();
              return all.map(({ title, body, tag, actions }) => ({ title, body, tag, actions }));
            }"""
        )
        return shown

    def press_on_notification(self, tag: str, action: str) -> None:
        """Presses a button of a notification: runs the service worker's own handler for it."""
        worker = self.context.service_workers[0]
        assert worker.evaluate(PRESS_ACTION, [tag, action]) > 0
