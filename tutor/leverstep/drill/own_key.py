"""The key of a student's own numbers: what a secret of the teacher comes to for a drill and an id.

Nobody can tell the key of another student, or the secret, from one key: HMAC with SHA-256, of
RFC 2104. The drill has the mark of the secret, a hash by which it is known from others.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets

SECRET = re.compile("[0-9a-f]{64}")
MARK = re.compile("[0-9a-f]{32}")


def new_secret() -> str:
    """Return a new secret: 32 random bytes, in hexadecimal."""
    return secrets.token_hex(32)


def mark_of(secret: str) -> str:
    """Return the mark of a secret, as a drill has it."""
    return hashlib.sha256(f"the numbers of a drill\x1f{secret}".encode()).hexdigest()[:32]


def own_key(secret: str, drill: str, student: str) -> str:
    """Return the key of a student's numbers in a drill, in hexadecimal.

    Args:
        secret: that of the teacher.
        drill: the id of the drill.
        student: the student's id as it is compared.
    """
    said = f"{drill}\x1f{student}".encode()
    return hmac.new(bytes.fromhex(secret), said, hashlib.sha256).hexdigest()
