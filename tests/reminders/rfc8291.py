"""A push message opened by RFC 8291 and RFC 8188 by primitives alone: nothing of the sender's."""

from dataclasses import dataclass

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.hmac import HMAC
from cryptography.hazmat.primitives.kdf.hkdf import HKDFExpand
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

KEY_INFO, NONCE_INFO = b"Content-Encoding: aes128gcm\0", b"Content-Encoding: nonce\0"


@dataclass(frozen=True)
class Steps:
    """Everything between the two key pairs and the plain text, by the standard's own names (section 3.4)."""

    ecdh_secret: bytes
    prk_key: bytes
    key_info: bytes
    ikm: bytes
    prk: bytes
    cek: bytes
    nonce: bytes


def steps(
    key: ec.EllipticCurvePrivateKey, sender: bytes, mine: bytes, secret: bytes, salt: bytes, other: bytes
) -> Steps:
    """The keys of one message, worked out on either side.

    key, other -- the private key of this side and the public point of the other; sender, mine -- the public
    points of the application server and of the phone; secret -- the phone's; salt -- the message's
    """
    ecdh_secret = key.exchange(ec.ECDH(), ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), other))
    prk_key = extracted(secret, ecdh_secret)
    key_info = b"WebPush: info\0" + mine + sender
    ikm = expanded(prk_key, key_info, 32)
    prk = extracted(salt, ikm)
    cek, nonce = expanded(prk, KEY_INFO, 16), expanded(prk, NONCE_INFO, 12)
    return Steps(ecdh_secret, prk_key, key_info, ikm, prk, cek, nonce)


def opened(message: bytes, key: ec.EllipticCurvePrivateKey, secret: bytes) -> bytes:
    """The plain text of one record. Raises: InvalidTag where it was changed or is for another phone."""
    salt, record_size, length = message[:16], int.from_bytes(message[16:20], "big"), message[20]
    sender, sealed = message[21 : 21 + length], message[21 + length :]
    assert length == 65
    assert len(sealed) <= record_size
    found = steps(key, sender, point(key), secret, salt, sender)
    text = AESGCM(found.cek).decrypt(found.nonce, sealed, None).rstrip(b"\0")
    assert text.endswith(b"\2"), "the last record ends with a 2 before its padding"
    return text[:-1]


def point(key: ec.EllipticCurvePrivateKey) -> bytes:
    """The public point of a key, uncompressed."""
    return key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)


def extracted(salt: bytes, material: bytes) -> bytes:
    """The first half of HKDF (RFC 5869 section 2.2)."""
    mac = HMAC(salt, SHA256())
    mac.update(material)
    return mac.finalize()


def expanded(key: bytes, info: bytes, length: int) -> bytes:
    """The second half of HKDF (RFC 5869 section 2.3)."""
    return HKDFExpand(SHA256(), length, info).derive(key)
