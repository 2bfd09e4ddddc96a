"""Names that Windows keeps for devices: no file and no folder there can be called so."""

from __future__ import annotations

NOT_RESERVED = "a name that Windows does not keep for a device, as it does con, nul and com1"
"""What is expected in place of such a name."""

_DEVICES = frozenset(
    ["con", "prn", "aux", "nul", "clock$", "conin$", "conout$"]
    + [f"{port}{number}" for port in ("com", "lpt") for number in "0123456789¹²³"]
)


def is_reserved(name: str) -> bool:
    """Return whether Windows takes a name for that of a device.

    It does so whatever the case, with an ending such as `.txt`, and with dots or spaces behind it.
    """
    return name.partition(".")[0].strip().casefold() in _DEVICES
