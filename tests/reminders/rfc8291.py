"""A push message opened by RFC 8291 and RFC 8188 by primitives alone: nothing of the sender's."""

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

KEY_INFO, NONCE_INFO = b"Content-Encoding: aes128gcm\0", b"Content-Encoding: nonce\0"


def opened(message: bytes, key: ec.EllipticCurvePrivateKey, secret: bytes) -> bytes:
    """The plain text of one record. Raises: InvalidTag where it was changed or is for another phone."""
    salt, record_size, length = message[:16], int.from_bytes(message[16:20], "big"), message[20]
    sender, sealed = message[21 : 21 + length], message[21 + length :]
    assert length == 65
    assert len(sealed) <= record_size
    mine = key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
    shared = key.exchange(ec.ECDH(), ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), sender))
    keyed = derived(shared, secret, b"WebPush: info\0" + mine + sender, 32)
    plain = AESGCM(derived(keyed, salt, KEY_INFO, 16)).decrypt(
        derived(keyed, salt, NONCE_INFO, 12), sealed, None
    )
    text = plain.rstrip(b"\0")
    assert text.endswith(b"\2"), "the last record ends with a 2 before its padding"
    return text[:-1]


def derived(material: bytes, salt: bytes, info: bytes, length: int) -> bytes:
    return HKDF(SHA256(), length, salt, info).derive(material)
