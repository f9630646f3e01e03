"""The two themes: the colors of the workshop's paper, dark and light."""

from textual.theme import Theme

WORKSHOP = Theme(
    name="workshop",
    dark=True,
    primary="#7cc0e8",
    secondary="#7cc0e8",
    accent="#7cc0e8",
    foreground="#e6e3dc",
    background="#16181a",
    surface="#202327",
    panel="#202327",
    boost="#3a4048",
    warning="#f2b84b",
    error="#ff8a7a",
    success="#8fcb8a",
    variables={
        "quiet": "#b4b3aa",
        "overdue": "#ff8a7a",
        "due": "#f2b84b",
        "ahead": "#8fcb8a",
        "no-record": "#b9c0c8",
        "ruled": "#7d848c",
        "cursor-row": "#3a4048",
        "input-cursor-background": "#e6e3dc",
        "input-cursor-foreground": "#16181a",
        "input-selection-background": "#3a4048",
        "input-selection-foreground": "#e6e3dc",
    },
)
"""Dark, the default."""

DAYLIGHT = Theme(
    name="daylight",
    dark=False,
    primary="#0b4f7d",
    secondary="#0b4f7d",
    accent="#0b4f7d",
    foreground="#1d1f21",
    background="#f6f3ea",
    surface="#e9e4d6",
    panel="#e9e4d6",
    boost="#d3cbb6",
    warning="#7a4b00",
    error="#a01c12",
    success="#1f5c25",
    variables={
        "quiet": "#55564f",
        "overdue": "#a01c12",
        "due": "#7a4b00",
        "ahead": "#1f5c25",
        "no-record": "#45505a",
        "ruled": "#74746a",
        "cursor-row": "#d3cbb6",
        "input-cursor-background": "#1d1f21",
        "input-cursor-foreground": "#f6f3ea",
        "input-selection-background": "#d3cbb6",
        "input-selection-foreground": "#1d1f21",
    },
)
"""Light, for a screen in the sun."""

THEMES = (WORKSHOP, DAYLIGHT)
