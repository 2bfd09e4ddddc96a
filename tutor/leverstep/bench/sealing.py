"""The seal of a record: each line bears a code that needs the key of its moment, then forgotten.

A record begins with a key that only the teacher can find again. A line bears an HMAC-SHA256 of what
stands on it; then the key is hashed on, and the one before is gone. So whoever takes hold of a
record and of the key beside it can add lines, but not change those that stand there: forward
integrity, after Bellare and Yee, Forward Integrity for Secure Audit Logs (1997), and Schneier and
Kelsey, Cryptographic Support for Secure Logs on Untrusted Machines (1998). HMAC is RFC 2104; half
of it stands there, as its section 5 allows.
"""

from __future__ import annotations

import hashlib
import hmac
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from leverstep.bench.contents import as_hashed
from leverstep.bench.record_lines import Fields
from leverstep.course.plain_files import read_text
from leverstep.course.sharing import keep_secret

SEAL = "seal"
"""What the code of a line is called on it."""

_CODE = re.compile(r"([0-9]{1,6})\.([0-9a-f]{8})\.([0-9a-f]{32})")
_KEPT = re.compile(r"([0-9]{6}) ([0-9a-f]{8}) ([0-9a-f]{64}) ([0-9a-f]{8})\n")
_LARGEST_KEPT = 200


@dataclass(frozen=True, slots=True)
class LineKey:
    """The key of one line.

    `number` is the place of the line in its record, from 0; `of` tells the keys of one beginning
    from all others, and is no secret.
    """

    key: bytes = field(repr=False)
    number: int
    of: str

    @property
    def next(self) -> LineKey:
        """Return the key of the line after it, from which this one can't be found."""
        return LineKey(_hmac(self.key, b"next"), self.number + 1, self.of)

    def ahead(self, number: int) -> LineKey:
        """Return the key of a line that is not before this one, or else this one."""
        found = self
        while found.number < number:
            found = found.next
        return found

    def with_code(self, fields: Fields) -> dict[str, object]:
        """Return what stands on a line with its code."""
        return {**fields, SEAL: f"{self.number}.{self.of}.{self.code(fields)}"}

    def code(self, fields: Fields) -> str:
        """Return the code of what stands on a line, without the code itself."""
        return _hmac(self.key, b"line" + as_hashed(fields).encode()).hex()[:32]


@dataclass(frozen=True, slots=True)
class LineSeal:
    """What the seal of a line says: its place in its record, of which beginning, and its code."""

    number: int
    of: str
    code: str


def seal_on(fields: Mapping[str, object]) -> LineSeal | None:
    """Return the seal that a line bears, None where it bears none."""
    found = _CODE.fullmatch(str(fields.get(SEAL, "")))
    return None if found is None else LineSeal(int(found[1]), found[2], found[3])


def first_key(secret: bytes, sealed: str, number: int) -> LineKey:
    """Return the key of the first line that is sealed by a secret.

    Args:
        secret: what nobody but the teacher can find again.
        sealed: that secret as it stands on the line, for the teacher alone.
        number: the place of the line in its record.
    """
    return LineKey(_hmac(secret, b"record"), number, of_beginning(sealed))


def of_beginning(sealed: str) -> str:
    """Return what tells the keys of one beginning from all others."""
    return hashlib.sha256(sealed.encode(errors="backslashreplace")).hexdigest()[:8]


def _hmac(key: bytes, data: bytes) -> bytes:
    return hmac.new(key, data, hashlib.sha256).digest()


# The key of the next line, kept beside the record for when the sitting goes on.


def place_of_key(record: Path) -> Path:
    """Return where the key of the next line of a record lies."""
    return record.with_suffix(".key")


def keep_key(record: Path, key: LineKey) -> None:
    """Keep the key of the next line in place of the one before; where it can't be, that one stays.

    From that one the key can be found all the same.
    """
    text = f"{key.number:06} {key.of} {key.key.hex()}"
    with suppress(OSError):
        keep_secret(place_of_key(record), f"{text} {_sum(text)}\n".encode())


def key_kept(record: Path) -> LineKey | None:
    """Return the key that is kept beside a record, None where none can be read."""
    with suppress(OSError, ValueError):
        text = read_text(place_of_key(record), _LARGEST_KEPT)
        found = _KEPT.fullmatch(text)
        if found is not None and found[4] == _sum(text[: found.start(4) - 1]):
            return LineKey(bytes.fromhex(found[3]), int(found[1]), found[2])
    return None


def forget_key(record: Path) -> None:
    """Take the key away that is kept beside a record."""
    with suppress(OSError):
        place_of_key(record).unlink()


def _sum(text: str) -> str:
    """Return what tells that a key was written whole."""
    return hashlib.sha256(text.encode()).hexdigest()[:8]
