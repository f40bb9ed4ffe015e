"""Ten invented pages: as printed, the keys that type each, the block copied from it, and what it says in SI.

Every figure is invented. Keys: the characters typed; ⏎ is Enter, words in braces are the names of other keys.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

FT, IN, BTU = 0.3048, 0.0254, 1055.05585262 / 3600  # m, m, W (international table Btu)
NO = "not permitted"

Row = tuple[float, float, tuple[float, float] | None, Any, dict[str, Any]]
"""Input [W], size [m], band [m] or None, what is allowed, and what else the row says."""


@dataclass(frozen=True)
class Page:
    """A page.

    keys: from the list of tables on, up to the table saved. blocks: texts pasted, each after some keys, and the keys
    that take it. after: the keys that end it.
    """

    title: str
    keys: str
    rows: tuple[Row, ...]
    blocks: tuple[tuple[str, str], ...]
    layout: int = 0
    after: str = ""
    deductions: dict[str, Any] = field(default_factory=dict)
    head: dict[str, Any] = field(default_factory=dict)


def split(keys: str) -> list[str]:
    """Single keys."""
    names = {"⏎": "enter", " ": "space", "-": "minus", ".": "full_stop", "%": "percent_sign", ",": "comma"}
    return [names.get(key, key.strip("{}")) for key in re.findall(r"\{[^}]+\}|.", keys)]


def feet(*lengths: float | str) -> list[float | str]:
    """Lengths in meters."""
    return [length if isinstance(length, str) else length * FT for length in lengths]


def crossed(
    inputs: dict[float, list[list[float | str]]],
    sizes: list[float],
    bands: list[tuple[float, float] | None],
    **more: Any,
) -> tuple[Row, ...]:
    """Rows of a page: for each input [kBtu/h] a list of lengths [ft] by size [in] for each band [ft]."""
    found: list[Row] = []
    for power, by_band in inputs.items():
        for band, lengths in zip(bands, by_band, strict=True):
            in_m = None if band is None else (band[0] * FT, band[1] * FT)
            found += [
                (power * 1000 * BTU, size * IN, in_m, allowed, more)
                for size, allowed in zip(sizes, feet(*lengths), strict=True)
            ]
    return tuple(found)


SIZES = Page(
    title="3 inputs, 3 sizes, 2 altitudes, 5 deductions by size",
    keys="2⏎2 1/2⏎3⏎⏎"
    "0-2000⏎60⏎45⏎100⏎140⏎80⏎30⏎75⏎140⏎100⏎-⏎48⏎115⏎"
    "{left}2001-4500⏎60⏎40⏎90⏎140⏎80⏎27⏎68⏎130⏎100⏎-⏎43⏎104⏎"
    "{f3}⏎3⏎4⏎5⏎5⏎7⏎8⏎2⏎2⏎3⏎0⏎0⏎0⏎0⏎0⏎0⏎",
    rows=crossed(
        {
            60: [[45, 100, 140], [40, 90, 140]],
            80: [[30, 75, 140], [27, 68, 130]],
            100: [[NO, 48, 115], [NO, 43, 104]],
        },
        [2, 2.5, 3],
        [(0, 2000), (2001, 4500)],
    ),
    blocks=(
        (
            "",
            "Maximum equivalent vent length (ft)\n"
            "Altitude (ft)\tInput (Btu/h)\t2 in.\t2-1/2 in.\t3 in.\n"
            "0 - 2,000\t60,000\t45\t100\t140\n\t80,000\t30\t75\t140\n\t100,000\tNP\t48\t115\n"
            "2,001 - 4,500\t60,000\t40\t90\t140\n\t80,000\t27\t68\t130\n\t100,000\tNP\t43\t104\n",
        ),
        (
            "{f3}",
            "Fitting\t2 in.\t2-1/2 in.\t3 in.\n90° elbow, long turn\t3 ft\t4 ft\t5 ft\n"
            "90° elbow, short turn\t5 ft\t7 ft\t8 ft\n45° elbow, short turn\t2 ft\t2 ft\t3 ft\n"
            "Open pipe end\t0 ft\t0 ft\t0 ft\nAir intake, open\t0 ft\t0 ft\t0 ft\n",
        ),
    ),
    deductions={
        "elbow-90-long": feet(3, 4, 5), "elbow-90-short": feet(5, 7, 8), "elbow-45": feet(2, 2, 3),
        "terminal-open": feet(0, 0, 0), "entrance-open": feet(0, 0, 0),
    },
)  # fmt: skip

INPUTS_METRIC = Page(
    title="inputs across, all metric",
    layout=1,
    keys="20 kW⏎24 kW⏎30 kW⏎⏎0-600 m⏎60 mm⏎12 m⏎8 m⏎-⏎80⏎30⏎22⏎14⏎{left}600-1400⏎60⏎10⏎-⏎-⏎80⏎27⏎20⏎12⏎",
    rows=tuple(
        (kw * 1000.0, mm / 1000, band, allowed, {})
        for band, by_size in (
            ((0.0, 600.0), {60: (12.0, 8.0, NO), 80: (30.0, 22.0, 14.0)}),
            ((600.0, 1400.0), {60: (10.0, NO, NO), 80: (27.0, 20.0, 12.0)}),
        )
        for mm, lengths in by_size.items()
        for kw, allowed in zip((20, 24, 30), lengths, strict=True)
    ),
    blocks=(
        (
            "",
            "Greatest length in m\nAltitude 0-600 m\nPipe (mm);20 kW;24 kW;30 kW\n60;12;8;-\n80;30;22;14\n"
            "Altitude 600-1400 m\n60;10;-;-\n80;27;20;12\n",
        ),
    ),
)

FROM_ONE = Page(
    title="numbers of elbows across, from one on",
    layout=3,
    keys="1-5⏎60⏎2⏎0-2000⏎45⏎41⏎37⏎33⏎-⏎80⏎30⏎27⏎24⏎-⏎-⏎60⏎{left}{left}3⏎90⏎86⏎82⏎78⏎74⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, size * IN, (0.0, 2000 * FT), feet(*lengths), {"first_elbows": 1})
        for kbtu, size, lengths in (
            (60, 2, (45, 41, 37, 33, NO)), (80, 2, (30, 27, 24, NO, NO)), (60, 3, (90, 86, 82, 78, 74)),
        )
    ),
    blocks=(
        (
            "",
            "0 to 2,000 ft\n          Vent size      Number of 90° elbows\nInput Size 1 2 3 4 5\n"
            "60,000 Btu/h 2 in. 45 ft 41 ft 37 ft 33 ft NP\n80,000 Btu/h 2 in. 30 ft 27 ft 24 ft NP NP\n"
            "60,000 Btu/h 3 in. 90 ft 86 ft 82 ft 78 ft 74 ft\n",
        ),
    ),
)  # fmt: skip

ALTITUDES = Page(
    title="altitudes across",
    layout=2,
    keys="0-2000⏎2000-4500⏎4500-7000⏎⏎60⏎2⏎45⏎40⏎35⏎3⏎90⏎80⏎70⏎{left}80⏎2⏎30⏎26⏎-⏎3⏎75⏎68⏎60⏎",
    rows=crossed({60: [[45, 90], [40, 80], [35, 70]], 80: [[30, 75], [26, 68], [NO, 60]]},
                 [2, 3], [(0, 2000), (2000, 4500), (4500, 7000)]),
    blocks=(
        (
            "",
            "Input (MBH)  Size (in)  0-2000 ft  2000-4500 ft  4500-7000 ft\n"
            "60           2          45         40            35\n60           3          90         80            70\n"
            "80           2          30         26            —\n80           3          75         68            60\n",
        ),
    ),
)  # fmt: skip

ELBOWS_DOWN = Page(
    title="sizes across, numbers of elbows down",
    layout=4,
    keys="2⏎3⏎⏎0-4500⏎60⏎{left}1⏎60⏎100⏎55⏎95⏎50⏎90⏎{left}{left}80⏎40⏎80⏎36⏎76⏎-⏎72⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, size * IN, (0.0, 4500 * FT), feet(*lengths), {"first_elbows": 1})
        for kbtu, size, lengths in (
            (60, 2, (60, 55, 50)),
            (60, 3, (100, 95, 90)),
            (80, 2, (40, 36, NO)),
            (80, 3, (80, 76, 72)),
        )
    ),
    blocks=(
        (
            "",
            "Altitude: 0-4500 ft\nInput\tElbows\t2 in\t3 in\n60,000\t1\t60 ft\t100 ft\n"
            "\t2\t55 ft\t95 ft\n\t3\t50 ft\t90 ft\n"
            "80,000\t1\t40 ft\t80 ft\n\t2\t36 ft\t76 ft\n\t3\tN/A\t72 ft\n",
        ),
    ),
)

LIST = Page(
    title="one length a line, with a least length",
    layout=5,
    keys="m⏎{home}60⏎2⏎0-4500⏎5⏎45⏎80⏎30⏎60⏎{shift+tab}{left}{left}3⏎{right}{right}90⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, size * IN, (0.0, 4500 * FT), length * FT, {"minimum": 5 * FT})
        for kbtu, size, length in ((60, 2, 45), (80, 2, 30), (60, 3, 90))
    ),
    blocks=(
        ("", "Input,Size,From,To,Least,Allowed\n60 kBtu/h,2 in,0 ft,4500 ft,5 ft,45 ft\n"
             "80 kBtu/h,2 in,0 ft,4500 ft,5 ft,30 ft\n"
             "60 kBtu/h,3 in,0 ft,4500 ft,5 ft,90 ft\n"),
    ),
)  # fmt: skip

FOOTNOTES = Page(
    title="no altitudes but a factor, two elbows included, a footnote to confirm",
    keys="2⏎3⏎⏎melb⏎2⏎{home}-⏎60⏎45⏎90⏎80⏎30⏎75⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, size * IN, None, length * FT, {"elbows_included": 2})
        for kbtu, size, length in ((60, 2, 45), (60, 3, 90), (80, 2, 30), (80, 3, 75))
    ),
    blocks=(
        ("", "Input Elbows included 2 in 3 in\n60,000 2 45 ft 90 ft\n80,000 2 30 ft 75 ft\nTerminals on one wall.\n"),
    ),
    after="{f4}" + "{down}" * 10 + "4 % per 1000 ft above 2000 ft{down}{down}Terminals on one wall.⏎",
    head={"above": 2000 * FT, "per": 1000 * FT, "less": 0.04, "confirm": ("Terminals on one wall.",)},
)

PIPES = Page(
    title="one pipe and two pipes, by outdoor end",
    keys="2⏎3⏎⏎mpipes⏎{left}{left}0-2000⏎60⏎1⏎45⏎90⏎80⏎30⏎75⏎60⏎{left}2⏎40⏎80⏎80⏎26⏎68⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, size * IN, (0.0, 2000 * FT), length * FT, {"pipes": pipes})
        for pipes, kbtu, size, length in (
            ("one", 60, 2, 45), ("one", 60, 3, 90), ("one", 80, 2, 30), ("one", 80, 3, 75),
            ("two", 60, 2, 40), ("two", 60, 3, 80), ("two", 80, 2, 26), ("two", 80, 3, 68),
        )
    ),
    blocks=(
        (
            "",
            "Altitude 0-2000 ft\nPipes\tInput\t2 in\t3 in\none\t60 MBH\t45 ft\t90 ft\n\t80 MBH\t30 ft\t75 ft\n"
            "two\t60 MBH\t40 ft\t80 ft\n\t80 MBH\t26 ft\t68 ft\n",
        ),
    ),
)  # fmt: skip

PRESSURES = Page(
    title="pressures instead of lengths",
    layout=5,
    keys="150⏎4⏎-⏎0.30 in w.c.⏎200⏎0.28⏎250⏎-⏎",
    rows=tuple(
        (kbtu * 1000 * BTU, 4 * IN, None, allowed, {})
        for kbtu, allowed in ((150, ("Pa", 0.30)), (200, ("Pa", 0.28)), (250, NO))
    ),
    blocks=(
        (
            "",
            "Input\tSize\tMaximum pressure\n150 MBH\t4 in\t0.30 in w.c.\n"
            "200 MBH\t4 in\t0.28 in w.c.\n250 MBH\t4 in\tNP\n",
        ),
    ),
)

TWO_HEADS = Page(
    title="sizes under altitudes, copied from a PDF; limits; a pair of 45s; the page's own kit",
    keys="2⏎3⏎⏎0-2000⏎60⏎45⏎90⏎80⏎30⏎75⏎{left}2000-4500⏎60⏎40⏎80⏎80⏎26⏎68⏎"
    "{f3}3⏎5⏎2 per two⏎0⏎0⏎",
    rows=crossed({60: [[45, 90], [40, 80]], 80: [[30, 75], [26, 68]]}, [2, 3], [(0, 2000), (2000, 4500)]),
    blocks=(
        (
            "",
            "0-2000 ft 2000-4500 ft\nInput (Btu/h) 2 in 3 in 2 in 3 in\n60,000 45 90 40 80\n80,000 30 75 26 68\n"
            "Lengths in feet. Do not cut pipe at an angle.\n",
        ),
        (
            "{f3}",
            "Equivalent feet\n90° long sweep elbow 3\n90° short radius elbow 5\nTwo 45° elbows, short turn 2\n"
            "Open end of pipe 0\n"
            "Air inlet 0\n",
        ),
    ),
    after="{f4}" + "{down}" * 5 + "8{down}40⏎",
    deductions={
        "elbow-90-long": 3 * FT, "elbow-90-short": 5 * FT, "elbow-45": ("per two", 2 * FT), "terminal-open": 0.0,
        "entrance-open": 0.0,
    },
    head={"most_elbows": 8, "longest_level": 40 * FT},
)  # fmt: skip

PAGES = (SIZES, INPUTS_METRIC, FROM_ONE, ALTITUDES, ELBOWS_DOWN, LIST, FOOTNOTES, PIPES, PRESSURES, TWO_HEADS)
