"""Pushes open by the standard's own arithmetic, checked against the example of RFC 8291, appendix A."""

import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.asymmetric import ec
from pywebpush import WebPusher
from tests.reminders.push_service import Phone, padded
from tests.reminders.rfc8291 import opened

RECEIVER = int.from_bytes(padded("q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"), "big")
SECRET = padded("BTBZMqHH6r4Tts7J_aSIgg")
MESSAGE = padded(
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6Tlz"
    "AC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN"
)


def test_the_example_of_the_standard_opens() -> None:
    key = ec.derive_private_key(RECEIVER, ec.SECP256R1())
    assert opened(MESSAGE, key, SECRET) == b"When I grow up, I want to be a watermelon"


@pytest.mark.parametrize("length", [1, 200, 3993])
def test_what_we_send_opens_with_the_phones_keys_and_with_no_others(length: int) -> None:
    phone, other, text = Phone("lead"), Phone("other"), b"\xf0\x9f\x8f\xa1 slab"[:length].ljust(length, b"x")
    endpoint = {"endpoint": "https://push.example/lead", "keys": phone.keys}
    encoded = WebPusher(endpoint).encode(text, content_encoding="aes128gcm")
    assert encoded is not None
    assert opened(encoded["body"], phone.key, phone.secret) == text
    with pytest.raises(InvalidTag):
        opened(encoded["body"], other.key, phone.secret)
