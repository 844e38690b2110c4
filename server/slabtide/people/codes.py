"""One-time codes: eight characters that read well aloud, kept only as a slow, salted hash.

40 random bits are too few for a plain hash: a stolen database could be tried in minutes. The salt is one per
installation, so that a code can still be looked up by its hash.
"""

from __future__ import annotations

import hashlib
import secrets

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 8
_SOUNDS_LIKE = str.maketrans({"O": "0", "I": "1", "L": "1", "-": "", " ": ""})


def new_code() -> str:
    """A fresh code, without its hyphen."""
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))


def shown(code: str) -> str:
    """The code as people see it: ABCD-EFGH."""
    return f"{code[:4]}-{code[4:]}"


def read_code(text: str) -> str | None:
    """A typed code in its plain form (hyphen, spaces, case, look-alikes aside), or None."""
    code = text.upper().translate(_SOUNDS_LIKE)
    if len(code) != LENGTH or any(letter not in ALPHABET for letter in code):
        return None
    return code


def code_hash(code: str, salt: str) -> str:
    """What the database keeps of a code: about 20 ms of scrypt."""
    return hashlib.scrypt(code.encode("ascii"), salt=bytes.fromhex(salt), n=2**13, r=8, p=1, dklen=32).hex()
