"""The key pair of a sealed drill: the drill has the public half, the teacher alone the private one.

A record begins with a random number that is encrypted for the teacher: RSA-KEM, of ISO/IEC 18033-2,
clause 11.5, and RFC 9690, with 2048 bits, which NIST SP 800-57 takes for as strong as a key of 112.
Encrypting is one power, so that the computers of a room need no library. The pair is made and read
by the library of the extra `seal`, on the teacher's computer alone.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from leverstep.bench.sealing import LineKey, first_key
from leverstep.course.faults import Fault, FileError
from leverstep.course.places import home
from leverstep.course.plain_files import read_plain
from leverstep.course.sharing import keep_secret, make_folder

BITS = 2048
_DIGITS = BITS // 4
_EXPONENT = 65537
_LARGEST = 20_000
"""Bytes of the file of a private key that will be read."""

PUBLIC = re.compile(rf"[89a-f][0-9a-f]{{{_DIGITS - 2}}}[13579bdf]")
"""A public half, as a drill has it: an odd number of so many bits, in hexadecimal."""

_SEALED = re.compile(rf"[0-9a-f]{{{_DIGITS}}}")

NO_LIBRARY = "the library cryptography, which `pip install cryptography` installs"


class NoLibrary(Exception):
    """The library of the extra `seal` is not there."""


@dataclass(frozen=True, slots=True)
class PrivateKey:
    """The private half of a pair: the modulus, its two primes, and the private exponent."""

    modulus: int
    one: int = field(repr=False)
    other: int = field(repr=False)
    exponent: int = field(repr=False)

    @property
    def public(self) -> str:
        """Return the public half, as a drill has it."""
        return _written(self.modulus)

    def secret(self, sealed: str) -> bytes | None:
        """Return the secret that was encrypted for this key, None for what is no such thing."""
        if not _SEALED.fullmatch(sealed) or int(sealed, 16) >= self.modulus:
            return None
        number, one, other = int(sealed, 16), self.one, self.other
        by_one = pow(number, self.exponent % (one - 1), one)
        by_other = pow(number, self.exponent % (other - 1), other)
        found = by_other + other * ((by_one - by_other) * pow(other, -1, one) % one)
        return found.to_bytes(_DIGITS // 2, "big")


def new_secret(public: str, number: int = 0) -> tuple[str, LineKey]:
    """Return a new secret as only the teacher can read it, and the first key that follows from it.

    Args:
        public: the public half of the drill's pair.
        number: the place of the line in its record from which on it is sealed.
    """
    modulus = int(public, 16)
    secret = secrets.randbelow(modulus)
    sealed = _written(pow(secret, _EXPONENT, modulus))
    return sealed, first_key(secret.to_bytes(_DIGITS // 2, "big"), sealed, number)


def _written(number: int) -> str:
    return f"{number:0{_DIGITS}x}"


def place_of_private(public: str) -> Path:
    """Return where the private half of a pair lies in the user's data."""
    return home() / "seal-keys" / f"{sha256(public.encode()).hexdigest()[:16]}.pem"


def make_pair() -> str:
    """Make a pair, keep its private half in the user's data, and return the public one.

    Raises:
        NoLibrary: where the library is not there.
        OSError: where it can't be kept.
    """
    try:
        from cryptography.hazmat.primitives.asymmetric.rsa import generate_private_key
        from cryptography.hazmat.primitives.serialization import (
            Encoding,
            NoEncryption,
            PrivateFormat,
        )
    except ImportError as error:
        raise NoLibrary(NO_LIBRARY) from error
    key = generate_private_key(public_exponent=_EXPONENT, key_size=BITS)
    public = _written(key.public_key().public_numbers().n)
    data = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    place = place_of_private(public)
    make_folder(place.parent)
    keep_secret(place, data)
    return public


def read_key(path: Path) -> PrivateKey:
    """Return the private half that is in a file.

    Raises:
        FileError: where there is none.
        NoLibrary: where the library is not there.
    """
    try:
        from cryptography.exceptions import UnsupportedAlgorithm
        from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
        from cryptography.hazmat.primitives.serialization import load_pem_private_key
    except ImportError as error:
        raise NoLibrary(NO_LIBRARY) from error
    expected = "the private key of a sealed drill, as `leverstep drill seal` kept it"
    try:
        key = load_pem_private_key(read_plain(path, _LARGEST, linked=True), None)
    except OSError as error:
        found = error.strerror or "it can't be read"
        raise FileError([Fault(str(path), "", found, expected)]) from error
    except (ValueError, TypeError, UnsupportedAlgorithm) as error:
        raise FileError([Fault(str(path), "", "it is no such key", expected)]) from error
    if not isinstance(key, RSAPrivateKey) or key.key_size != BITS:
        raise FileError([Fault(str(path), "", "it is a key of another kind", expected)])
    numbers = key.private_numbers()
    return PrivateKey(numbers.public_numbers.n, numbers.p, numbers.q, numbers.d)


def named_keys(paths: Iterable[Path], wanted: Collection[str]) -> tuple[PrivateKey, ...]:
    """Return the private keys of some files, each the other half of one of the public ones wanted.

    Raises:
        FileError: where a file holds no such key, or that of another drill.
        NoLibrary: where the library is not there.
    """
    found = {path: read_key(path) for path in paths}
    expected = "the private key of a drill that is marked here"
    strange = [path for path, key in found.items() if key.public not in wanted]
    if strange:
        raise FileError([Fault(str(path), "", "it is another one", expected) for path in strange])
    return tuple(found.values())


def keys_at_hand(wanted: Collection[str], named: Iterable[PrivateKey]) -> tuple[PrivateKey, ...]:
    """Return the private halves of some public ones, as far as they are there.

    Those that are not `named` are looked for in the user's data.

    Raises:
        FileError: where one that is kept there is none.
        NoLibrary: where there is one, and the library is not there.
    """
    known = {key.public: key for key in named}
    kept = [place_of_private(public) for public in wanted if public not in known]
    of_these = [known[public] for public in wanted if public in known]
    return tuple(of_these + [read_key(place) for place in kept if os.path.lexists(place)])
