"""A drawing as SVG: no styles, scripts, references or identifiers, so that many stand in one page."""

from __future__ import annotations

from html import escape

from ventsize.jobfile.letters import plain
from ventsize.report.drawing.model import Box, Dot, Drawing, Line, Mark, Words
from ventsize.report.drawing.styles import INK, STYLES, Role

_FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', 'DejaVu Sans', sans-serif"


def svg(drawing: Drawing) -> str:
    """The drawing as an `svg` element with its alt text."""
    width, height = _number(drawing.width), _number(drawing.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        f'role="img" aria-label="{_text(drawing.alt)}" font-family="{_FONT}">'
    )
    return "\n".join([head, *map(_mark, drawing.marks), "</svg>"])


def _mark(mark: Mark) -> str:
    match mark:
        case Line():
            name = "polygon" if mark.closed else "polyline"
            points = " ".join(f"{_number(x)},{_number(y)}" for x, y in mark.points)
            return f'<{name} points="{points}"{_style(mark.role, filled=mark.closed)}/>'
        case Box():
            place = f'x="{_number(mark.x)}" y="{_number(mark.y)}"'
            size = f'width="{_number(mark.width)}" height="{_number(mark.height)}"'
            return f"<rect {place} {size}{_style(mark.role)}/>"
        case Dot():
            place = f'cx="{_number(mark.x)}" cy="{_number(mark.y)}" r="{_number(mark.radius)}"'
            style = STYLES[mark.role]
            if style.fill is None:  # a dot of a line: filled, or a dashed one would be hard to see
                return f'<circle {place} fill="{style.stroke}"/>'
            return f"<circle {place}{_style(mark.role)}/>"
        case Words():
            return _words(mark)


def _words(mark: Words) -> str:
    x, y = _number(mark.x), _number(mark.y)
    strong = ' font-weight="bold"' if mark.strong else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{_number(mark.size)}" text-anchor="{mark.anchor}" fill="{INK}"'
        f"{strong}>{_text(mark.text)}</text>"
    )


def _style(role: Role, *, filled: bool = True) -> str:
    style = STYLES[role]
    parts = [f'fill="{(style.fill if filled else None) or "none"}"']
    if style.stroke is not None:
        parts += [f'stroke="{style.stroke}"', f'stroke-width="{_number(style.width)}"', 'stroke-linejoin="round"']
        if style.dash:
            parts.append(f'stroke-dasharray="{" ".join(map(_number, style.dash))}"')
    return " " + " ".join(parts)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _text(text: str) -> str:
    return escape(plain(text))
