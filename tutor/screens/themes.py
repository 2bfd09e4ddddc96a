"""The two looks: slate for dark terminals, paper for light ones.

The colours of meaning are those of Okabe and Ito, which people with any colour vision can tell
apart; on paper they are darkened until they can be read. No meaning rests on them alone.
"""

from __future__ import annotations

from textual.theme import Theme

SLATE = Theme(
    name="slate",
    primary="#8FB3C4",
    secondary="#6D8796",
    success="#56B4E9",
    warning="#E69F00",
    error="#E69F00",
    accent="#F0E442",
    foreground="#D9E0E4",
    background="#12181C",
    surface="#182026",
    panel="#1F2A31",
    dark=True,
    variables={"footer-key-foreground": "#8FB3C4", "footer-background": "#1F2A31"},
)

PAPER = Theme(
    name="paper",
    primary="#2F5B72",
    secondary="#5F7A88",
    success="#00629B",
    warning="#A84300",
    error="#A84300",
    accent="#8A3A6E",
    foreground="#1C2429",
    background="#F8F6F0",
    surface="#F1EEE5",
    panel="#E4E2DA",
    dark=False,
    variables={"footer-key-foreground": "#2F5B72", "footer-background": "#E4E2DA"},
)

THEMES = (SLATE, PAPER)
