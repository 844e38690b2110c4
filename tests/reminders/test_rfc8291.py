"""Pushes open by the standard's own arithmetic, checked against the example of RFC 8291.

Source of the example: RFC 8291 (M. Thomson, Message Encryption for Web Push, 2017), section 5 and appendix A,
as its working group's own text has them (repository webpush-wg/webpush-encryption, file
draft-ietf-webpush-encryption.md, commit 0bbea045); the RFC's final text itself was not read. The keys and the
message are the same in the tests of several public libraries for Web Push. Nothing here rests on that alone:
each value follows from the two private keys, the secret, the salt and the sentence.
"""

import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from pywebpush import WebPusher
from tests.reminders.push_service import Phone, padded, unpadded
from tests.reminders.rfc8291 import opened, point, steps

SENTENCE = b"When I grow up, I want to be a watermelon"
PHONE_KEY, SERVER_KEY = (
    ec.derive_private_key(int.from_bytes(padded(text), "big"), ec.SECP256R1())
    for text in ("q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94", "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw")
)
PHONE_POINT = "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"
SERVER_POINT = "BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8"
SECRET, SALT = padded("BTBZMqHH6r4Tts7J_aSIgg"), padded("DGv6ra1nlYgDCS1FRnbzlw")
SEALED = "8pfeW0KbunFT06SuDKoJH9Ql87S1QUrdirN6GcG7sFz1y1sqLgVi1VhjVkHsUoEsbI_0LpXMuGvnzQ"
MESSAGE = padded(
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6Tlz"
    "AC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN"
)
APPENDIX_A = {
    "ecdh_secret": "kyrL1jIIOHEzg3sM2ZWRHDRB62YACZhhSlknJ672kSs",
    "prk_key": "Snr3JMxaHVDXHWJn5wdC52WjpCtd2EIEGBykDcZW32k",
    "key_info": "V2ViUHVzaDogaW5mbwAEJXGyvs3942BVGq8e0PTNNmwRzr5VX4m8t7GGpTM5FzFo7OLr4BhZe9MEebhuPI-OztV3"
    "ylkYfpJGmQ22ggCLDgT-M_SrDepxkU21WCP3O1SUj0EwbZIHMtu5pZpTKGSCIA5Zent7wmC6HCJ5mFgJkuk5cwAvMBKiiujwa7t45ewP",
    "ikm": "S4lYMb_L0FxCeq0WhDx813KgSYqU26kOyzWUdsXYyrg",
    "prk": "09_eUZGrsvxChDCGRCdkLiDXrReGOEVeSCdCcPBSJSc",
    "cek": "oIhVW04MRdy2XN9CiKLxTg",
    "nonce": "4h_95klXJ5E_qnoN",
}


def test_the_public_points_of_the_example_are_those_of_its_private_keys() -> None:
    assert unpadded(point(PHONE_KEY)) == PHONE_POINT
    assert unpadded(point(SERVER_KEY)) == SERVER_POINT


@pytest.mark.parametrize("side", ["phone", "server"])
@pytest.mark.parametrize("name", APPENDIX_A)
def test_each_value_of_appendix_a_follows_from_the_keys_on_either_side(side: str, name: str) -> None:
    mine, sender = padded(PHONE_POINT), padded(SERVER_POINT)
    key, other = (PHONE_KEY, sender) if side == "phone" else (SERVER_KEY, mine)
    found = steps(key, sender, mine, SECRET, SALT, other)
    assert unpadded(getattr(found, name)) == APPENDIX_A[name]


def test_the_message_of_the_example_follows_from_its_values_octet_by_octet() -> None:
    cek, nonce = padded(APPENDIX_A["cek"]), padded(APPENDIX_A["nonce"])
    sealed = AESGCM(cek).encrypt(nonce, SENTENCE + b"\2", None)
    assert unpadded(sealed) == SEALED
    header = SALT + (4096).to_bytes(4, "big") + bytes([65]) + padded(SERVER_POINT)
    assert len(header) == 86
    assert header + sealed == MESSAGE


def test_the_example_of_the_standard_opens() -> None:
    assert opened(MESSAGE, PHONE_KEY, SECRET) == SENTENCE


@pytest.mark.parametrize("length", [1, 200, 3993])
def test_what_we_send_opens_with_the_phones_keys_and_with_no_others(length: int) -> None:
    phone, other, text = Phone("lead"), Phone("other"), b"\xf0\x9f\x8f\xa1 slab"[:length].ljust(length, b"x")
    endpoint = {"endpoint": "https://push.example/lead", "keys": phone.keys}
    encoded = WebPusher(endpoint).encode(text, content_encoding="aes128gcm")
    assert encoded is not None
    assert opened(encoded["body"], phone.key, phone.secret) == text
    with pytest.raises(InvalidTag):
        opened(encoded["body"], other.key, phone.secret)
