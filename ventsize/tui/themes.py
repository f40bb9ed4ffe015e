"""The looks. Colors tell nothing that words and signs do not tell as well.

Every pair of colors that meets on a screen has a contrast of at least 4.5:1 for text and 3:1 for signs and lines (WCAG
2.2, 1.4.3 and 1.4.11), and text in the look of high contrast 7:1; `tests/tui/test_contrast.py` works it out from the
screens as they are drawn. All are written out: Textual's own mixtures are not right on a light ground.

The first is built on the palette of Okabe and Ito (Color Universal Design, 2008), whose colors are told apart with
every common kind of color vision.
"""

from __future__ import annotations

from textual.theme import Theme

COLOUR_SAFE, DARK, LIGHT, HIGH_CONTRAST = "colour-safe", "dark", "light", "high-contrast"


def _look(
    name: str, *, grounds: str, text: str, faint: str, line: str, key: str, cursor: str, tones: str, fields: str
) -> Theme:
    """A look from its colors.

    grounds: of the screen, of a surface, of a bar. cursor: its ground and its text. tones: good, doubtful and bad, as
    text and then as ground. fields: a field, the one with the focus, a marked row, and where the cursor was.
    """
    ground, surface, bar = grounds.split()
    at, at_text = cursor.split()
    good, doubtful, bad, good_ground, doubtful_ground, bad_ground = tones.split()
    field, here, marked, away = fields.split()
    return Theme(
        name=name, primary=at, secondary=marked, accent=key, warning=doubtful, error=bad, success=good, foreground=text,
        background=ground, surface=surface, panel=bar, dark=name != LIGHT,
        variables={
            "text": text, "text-muted": faint, "text-disabled": faint, "foreground-muted": faint,
            "text-success": good, "text-warning": doubtful, "text-error": bad, "text-primary": key,
            "success-muted": good_ground, "warning-muted": doubtful_ground, "error-muted": bad_ground,
            "primary-muted": here, "secondary-muted": marked, "surface-lighten-1": field, "surface-lighten-2": away,
            "panel-lighten-2": line, "border": line, "border-blurred": line, "scrollbar": line,
            "scrollbar-hover": line, "scrollbar-active": at, "scrollbar-background": bar,
            "block-cursor-background": at, "block-cursor-foreground": at_text,
            "block-cursor-blurred-background": away, "block-cursor-blurred-foreground": text,
            "input-selection-background": at, "input-selection-foreground": at_text,
            "screen-selection-background": at, "screen-selection-foreground": at_text,
        },
    )  # fmt: skip


THEMES = (
    _look(
        COLOUR_SAFE, grounds="#14181C #1B2026 #232A31", text="#F0F0F0", faint="#B3BBC2", line="#84909B",
        key="#F0B6D6", cursor="#56B4E9 #0B0D0F", tones="#3FCF9F #F0AE1E #FF9A5C #0B3B2E #463100 #56260A",
        fields="#2D353D #1A3F55 #173345 #39434C",
    ),
    _look(
        DARK, grounds="#101010 #191919 #242424", text="#F0F0F0", faint="#B4B4B4", line="#8A8A8A", key="#E3C765",
        cursor="#8AB4D8 #0B0B0B", tones="#86D199 #E5B85C #F59A8C #1E3A26 #443510 #55241D",
        fields="#303030 #263E56 #22323F #3C3C3C",
    ),
    _look(
        LIGHT, grounds="#FAFAF7 #F0EFEA #E4E3DC", text="#1A1A1A", faint="#50504A", line="#74736C", key="#7A2C5E",
        cursor="#00588A #FFFFFF", tones="#005A42 #6A4300 #8A2D00 #CFEADE #F5E6C4 #F8D9CC",
        fields="#DCE6ED #C3DDF0 #D5DFEA #CDD3D8",
    ),
    _look(
        HIGH_CONTRAST, grounds="#000000 #000000 #1C1C1C", text="#FFFFFF", faint="#E0E0E0", line="#FFFFFF",
        key="#FFE94A", cursor="#FFE94A #000000", tones="#8CFFA8 #FFD95A #FFC0B4 #003512 #3D2E00 #520000",
        fields="#2A2A2A #00305C #26265C #404040",
    ),
)  # fmt: skip
