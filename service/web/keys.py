"""The access key as it is held: salted and hashed, so that neither a settings file nor the memory need show it.

Scope    `scrypt:SALT:DIGEST` in hexadecimal may stand in RANGEWRIGHT_ACCESS_KEY in place of the key itself.
Source   RFC 7914 (scrypt); N = 2^14, r = 8, p = 5, one of the settings of the OWASP password storage cheat sheet (from
         memory).
"""

import hashlib
import hmac
import secrets
from dataclasses import dataclass, field

__all__ = ["HASHED", "KeyHash"]

MARK = "scrypt"
HASHED = f"{MARK}:"  # how a hashed key begins
SALT_BYTES, DIGEST_BYTES = 16, 32
COST, BLOCK, LANES = 2**14, 8, 5
MOST_MEMORY = 64 * 1024 * 1024  # bytes; it takes 16 MB


@dataclass(frozen=True, slots=True)
class KeyHash:
    """A key that can be recognised and not be read."""

    salt: bytes = field(repr=False)
    digest: bytes = field(repr=False)

    @classmethod
    def of(cls, key: str) -> "KeyHash":
        """Hash a key with a salt of its own.

        >>> KeyHash.of("a-key-of-the-house-1").matches("a-key-of-the-house-1")
        True
        """
        salt = secrets.token_bytes(SALT_BYTES)
        return cls(salt, _digest(key, salt))

    @classmethod
    def read(cls, text: str) -> "KeyHash | None":
        """From its text; None if it is none."""
        mark, _, rest = text.partition(":")
        try:
            salt, digest = (bytes.fromhex(part) for part in rest.split(":"))
        except ValueError:
            return None
        good = mark == MARK and len(salt) == SALT_BYTES and len(digest) == DIGEST_BYTES
        return cls(salt, digest) if good else None

    @property
    def text(self) -> str:
        """As it may stand in a file."""
        return f"{MARK}:{self.salt.hex()}:{self.digest.hex()}"

    def matches(self, candidate: str) -> bool:
        """True for the key. Takes about 0.2 s, whatever is asked, and compares in constant time."""
        return hmac.compare_digest(_digest(candidate, self.salt), self.digest)


def _digest(key: str, salt: bytes) -> bytes:
    raw = key.encode("utf-8", "surrogateescape")
    return hashlib.scrypt(raw, salt=salt, n=COST, r=BLOCK, p=LANES, maxmem=MOST_MEMORY, dklen=DIGEST_BYTES)
