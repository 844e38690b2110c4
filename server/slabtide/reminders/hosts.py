"""Which push services may be called: an endpoint comes from outside, and must not point inside."""

import ipaddress
from collections.abc import Sequence
from urllib.parse import urlsplit

# The push services of the browsers in use; a leading dot takes every host below it.
KNOWN_HOSTS = (
    "fcm.googleapis.com",
    "updates.push.services.mozilla.com",
    ".push.services.mozilla.com",
    "web.push.apple.com",
    ".push.apple.com",
    ".notify.windows.com",
)
LONGEST_ENDPOINT = 1000


class EndpointRefusedError(ValueError):
    """The endpoint is no push service this server may call; `str()` says why."""


def check_endpoint(endpoint: str, extra_hosts: Sequence[str] = ()) -> None:
    """Let a push endpoint pass, or refuse it.

    Known hosts pass with https on its own port. `extra_hosts` (from the settings) pass too, on any port; with
    http only where they are this very machine.
    Raises: EndpointRefusedError.
    """
    if len(endpoint) > LONGEST_ENDPOINT:
        raise EndpointRefusedError(f"The endpoint is longer than {LONGEST_ENDPOINT} characters.")
    try:
        parts = urlsplit(endpoint)
        host, port = (parts.hostname or "").lower(), parts.port
    except ValueError as error:
        raise EndpointRefusedError("The endpoint is not an address.") from error
    if parts.username is not None or parts.password is not None or not host:
        raise EndpointRefusedError("The endpoint must name a host, and no user or password.")
    if host in {extra.lower() for extra in extra_hosts}:
        if parts.scheme != "https" and not (parts.scheme == "http" and _is_loopback(host)):
            raise EndpointRefusedError("The endpoint must start with https://.")
        return
    if parts.scheme != "https" or port not in (None, 443):
        raise EndpointRefusedError("The endpoint must start with https:// and name no port.")
    if not any(host == known or (known[0] == "." and host.endswith(known)) for known in KNOWN_HOSTS):
        raise EndpointRefusedError(f"{host} is no push service known here.")


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
