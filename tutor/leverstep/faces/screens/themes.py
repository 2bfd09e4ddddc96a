"""The looks: dark and light for screens with many colours, contrast, and one for sixteen colours.

The colours of meaning in dark and light are those of Okabe and Ito, which people with any colour
vision can tell apart; in light they are darkened until they can be read. No meaning rests on them
alone. `tests/faces/screens/test_looks.py` measures how well every text stands out.
"""

from __future__ import annotations

from textual.theme import Theme


def _own(text: str, quiet: str, rule: str, lit: str, keys: str, foot: str) -> dict[str, str]:
    """Return the variables that every look has.

    Args:
        text: text that stands on the ground of what is lit.
        quiet: text that stands back.
        rule: lines between the parts of a screen.
        lit: the ground of the row that is lit in a list, and of what is marked in a field.
        keys: the keys at the foot.
        foot: the ground that they stand on.
    """
    return {
        "quiet": quiet,
        "text": text,
        "text-muted": quiet,
        "text-disabled": quiet,
        "rule": rule,
        "lit": lit,
        "block-cursor-foreground": text,
        "block-cursor-background": lit,
        "block-cursor-blurred-foreground": text,
        "block-cursor-blurred-background": lit,
        "input-selection-foreground": text,
        "input-selection-background": lit,
        "footer-key-foreground": keys,
        "footer-background": foot,
    }


DARK = Theme(
    name="dark",
    primary="#8FB3C4",
    secondary="#7F99A8",
    success="#56B4E9",
    warning="#E69F00",
    error="#E69F00",
    accent="#F0E442",
    foreground="#D9E0E4",
    background="#12181C",
    surface="#192127",
    panel="#262D32",
    dark=True,
    variables=_own("#D9E0E4", "#A3ACB1", "#495A65", "#363D42", "#8FB3C4", "#262D32"),
)

LIGHT = Theme(
    name="light",
    primary="#2F5B72",
    secondary="#4F6875",
    success="#005280",
    warning="#A84300",
    error="#A84300",
    accent="#8A3A6E",
    foreground="#1C2429",
    background="#F8F6F0",
    surface="#F1EEE5",
    panel="#E4E2DA",
    dark=False,
    variables=_own("#1C2429", "#565C60", "#9DADB4", "#C7DBE6", "#2F5B72", "#E4E2DA"),
)

CONTRAST = Theme(
    name="contrast",
    primary="#FFFFFF",
    secondary="#FFFFFF",
    success="#FFFFFF",
    warning="#FFFF00",
    error="#FFFF00",
    accent="#FFFF00",
    foreground="#FFFFFF",
    background="#000000",
    surface="#000000",
    panel="#000000",
    dark=True,
    variables=_own("#FFFFFF", "#FFFFFF", "#FFFFFF", "#00008B", "#FFFF00", "#000000"),
)

LIT = "ansi_blue"
"""What stands for a lit row among the sixteen colours; it is shown by reversing the terminal's."""

_PLAIN = dict.fromkeys(
    (
        "ansi-background", "ansi-foreground", "border", "border-blurred", "scrollbar-background",
        "scrollbar-background-hover", "scrollbar-background-active", "screen-selection-background",
        "screen-selection-foreground",
    ),
    "ansi_default",
)  # fmt: skip
"""What is left to the terminal, whose ground may be light or dark."""

SIXTEEN = Theme(
    name="sixteen",
    primary="ansi_default",
    secondary="ansi_default",
    success="ansi_green",
    warning="ansi_red",
    error="ansi_red",
    accent="ansi_magenta",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    dark=True,
    ansi=True,
    boost="ansi_default",
    variables=_PLAIN
    | _own("ansi_default", "ansi_default", "ansi_default", LIT, "ansi_default", "ansi_default"),
)

_LOOKS = (
    (DARK, "light on dark"),
    (LIGHT, "dark on light"),
    (CONTRAST, "white and yellow on black"),
    (SIXTEEN, "the sixteen colours of the terminal itself"),
)
THEMES = tuple(theme for theme, _ in _LOOKS)
"""Every look, in the order in which a key goes through them."""
TOLD = {theme.name: told for theme, told in _LOOKS}
"""What each look is, in words."""
