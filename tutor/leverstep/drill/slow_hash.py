"""Hashes that are slow to make, so that short secrets can't be tried by the thousand: scrypt.

The parameters stand beside each hash, so that others may be used one day: RFC 7914.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets
import unicodedata
from dataclasses import dataclass

_WRITTEN = re.compile(r"scrypt:(\d{1,7}):(\d{1,2}):(\d):([0-9a-f]{32}):([0-9a-f]{64})")
_MOST_MEMORY = 2**28
"""Bytes that a hash may ask for: 256 MB."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What a hash costs: `n` (a power of 2) and `r` of memory, 128 n r bytes, `p` of time."""

    n: int = 2**15
    r: int = 8
    p: int = 1

    @property
    def is_sound(self) -> bool:
        """Return whether it is slow, and no computer of a room runs out of memory over it."""
        is_power = self.n & (self.n - 1) == 0
        return self.n >= 2**14 and is_power and self.r >= 8 and self.p >= 1 and self._fits

    @property
    def _fits(self) -> bool:
        return 128 * self.n * self.r * self.p <= _MOST_MEMORY


USUAL = Cost()
"""32 MB and about a tenth of a second on the computer of a room."""


def as_spoken(typed: str) -> str:
    """Return a word as it is compared: without regard to case, spaces and composed letters."""
    folded = unicodedata.normalize("NFC", typed).casefold()
    return "".join(unicodedata.normalize("NFC", folded).split())


def stretched(data: bytes, salt: bytes, cost: Cost = USUAL) -> bytes:
    """Return 32 bytes that are slow to make of some data and a salt."""
    size = {"n": cost.n, "r": cost.r, "p": cost.p, "maxmem": 2 * _MOST_MEMORY, "dklen": 32}
    return hashlib.scrypt(data, salt=salt, **size)


@dataclass(frozen=True, slots=True)
class SlowHash:
    """A slow hash of a secret, with its salt and what it costs."""

    salt: bytes
    digest: bytes
    cost: Cost = USUAL

    def is_of(self, secret: str) -> bool:
        """Return whether it is the hash of a secret."""
        made = stretched(secret.encode(errors="backslashreplace"), self.salt, self.cost)
        return hmac.compare_digest(made, self.digest)

    def __str__(self) -> str:
        cost = f"{self.cost.n}:{self.cost.r}:{self.cost.p}"
        return f"scrypt:{cost}:{self.salt.hex()}:{self.digest.hex()}"


def hash_of(secret: str) -> SlowHash:
    """Return a new hash of a secret; no two are alike."""
    salt = secrets.token_bytes(16)
    return SlowHash(salt, stretched(secret.encode(errors="backslashreplace"), salt))


def hash_in(text: str) -> SlowHash | None:
    """Return the hash that a text is, None where it is none, or one that is not slow."""
    found = _WRITTEN.fullmatch(text)
    if found is None:
        return None
    n, r, p, salt, digest = found.groups()
    cost = Cost(int(n), int(r), int(p))
    return SlowHash(bytes.fromhex(salt), bytes.fromhex(digest), cost) if cost.is_sound else None
