"""Drawn signs, as vectors: each in a box of 48 by 48 with y downward, in lines with round ends, 4.4 thick.

A sign is written as the standard writes paths: M, H, V, L, Q, T, A and Z with absolute places.

Reference: SVG 2, chapter 9 (paths) and appendix B.2 (elliptical arcs from their ends).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Literal

BOX = 48.0
STROKE = 4.4

SignPoint = tuple[float, float]

SignName = Literal[
    "trowel",
    "key-back",
    "comb-direction",
    "set",
    "stroke",
    "mallet",
    "lift",
    "clock",
    "sack",
    "person",
    "ear",
    "wall",
    "plan",
    "day",
    "pass",
    "fail",
    "question",
    "take-back",
    "photo",
    "note",
    "rub-out",
    "pail",
    "shield",
    "more",
    "less",
    "go-on",
    "open-up",
    "sign",
    "print",
    "hand-over",
    "page",
    "water",
    "collector",
    "mask",
    "hoist",
    "lock",
]

# What each sign is drawn as.
SIGNS: Mapping[SignName, str] = {
    "trowel": "M5 24H43V41H37V33H27V41H21V33H11V41H5ZM15 24V14M33 24V14M10 10H38",
    "key-back": "M6 5H13V43H6ZM18 39L30 11M25 26L33 30M30 37L39 19",
    "comb-direction": "M8 42V8M17 42V8M26 42V8M39 42V9M32 17L39 8L46 17",
    "set": "M24 3V17M17 10L24 17L31 10M6 24H42V30H6ZM9 44V37M19 44V37M29 44V37M39 44V37",
    "stroke": "M9 26V43M19 26V43M29 26V43M39 26V43M4 13H44M12 5L4 13L12 21M36 5L44 13L36 21",
    "mallet": "M8 8H30V22H8ZM19 22V43M36 30L42 27M37 37H44M35 43L40 46",
    "lift": "M5 44H43M9 44V38M18 44V38M27 44V38M36 44V38M7 31L41 22M24 20V4M17 11L24 4L31 11",
    "clock": "M24 5A19 19 0 1 1 23.9 5M24 13V25L33 30M24 5V2",
    "sack": "M13 13H35L40 22V40Q40 44 36 44H12Q8 44 8 40V22ZM14 13L10 5H38L34 13M16 28H32M16 35H27",
    "person": "M9 44V38Q9 29 24 29T39 38V44M15 16Q15 25 24 25T33 16M11 16H37M15 16Q15 6 24 6T33 16",
    "ear": "M13 20Q13 6 25 6T37 19Q37 26 31 30T26 39Q24 44 19 43T14 37M20 20Q20 13 25 13T30 19Q30 23 25 25",
    "wall": "M5 8H43V40H5ZM5 19H43M5 29H43M20 8V19M32 19V29M15 19V29M26 29V40",
    "plan": "M4 7H44V14H4ZM4 43H44M9 43V26H19V43M29 43V26H39V43",
    "day": "M4 38H44M12 38Q12 24 24 24T36 38M24 17V8M10 24L4 18M38 24L44 18",
    "pass": "M8 26L19 37L41 11",
    "fail": "M11 11L37 37M37 11L11 37",
    "question": "M15 17Q15 7 24 7T33 16Q33 22 24 26V31M24 38V41",
    "take-back": "M12 20H30Q42 20 42 31T30 42H14M21 10L11 20L21 30",
    "photo": "M5 14H14L18 8H30L34 14H43V40H5ZM24 19A8 8 0 1 1 23.9 19",
    "note": "M8 6H40V42H8ZM15 16H33M15 24H33M15 32H25",
    "rub-out": "M16 10H44V38H16L4 24ZM24 18L36 30M36 18L24 30",
    "pail": "M8 14H40L36 43H12ZM8 14Q24 0 40 14",
    "shield": "M24 4L41 10V24Q41 37 24 45Q7 37 7 24V10ZM16 24L22 30L33 18",
    "more": "M24 8V40M8 24H40",
    "less": "M8 24H40",
    "go-on": "M17 8L33 24L17 40",
    "open-up": "M10 30L24 16L38 30",
    "sign": "M8 40L11 29L34 6L42 14L19 37ZM29 11L37 19",
    "print": "M12 18V5H36V18M12 35H5V18H43V35H36M12 29H36V44H12Z",
    "hand-over": "M24 30V5M15 14L24 5L33 14M8 26V43H40V26",
    "page": "M9 4H30L39 13V44H9ZM30 4V13H39",
    "water": "M24 4Q39 21 39 30Q39 44 24 44Q9 44 9 30Q9 21 24 4M17 31Q18 37 24 37",
    "collector": "M5 40Q5 18 24 18T43 40ZM24 30A6 6 0 1 1 23.9 30M32 20Q34 8 44 8M30 12Q34 3 44 3",
    "mask": "M10 15Q24 8 38 15V27Q38 38 24 42Q10 38 10 27ZM10 18L3 13M38 18L45 13M17 23H31M17 30H31",
    "lock": "M9 21H39V44H9ZM15 21V14Q15 4 24 4T33 14V21M24 29V36",
    "hoist": "M24 3V13M24 13Q33 13 33 20T24 27M6 32H42V44H6ZM24 27L10 32M24 27L38 32",
}

_PIECES = re.compile(r"([MHVLQTAZ])([^MHVLQTAZ]*)")
_NUMBER = re.compile(r"-?\d*\.?\d+")
_CURVE_STEPS = 8
_ARC_STEP = math.radians(12)


@lru_cache(maxsize=128)
def lines(name: SignName) -> tuple[tuple[SignPoint, ...], ...]:
    """The lines of a sign, each through its places in the box of 48, y downward.

    >>> lines("less")
    (((8.0, 24.0), (40.0, 24.0)),)
    """
    return tuple(_drawn(SIGNS[name]))


def _drawn(path: str) -> Iterator[tuple[SignPoint, ...]]:
    line: list[SignPoint] = []
    control: SignPoint | None = None
    for letter, rest in _PIECES.findall(path):
        numbers = [float(n) for n in _NUMBER.findall(rest)]
        if letter == "M":
            if line:
                yield tuple(line)
            line = [(numbers[0], numbers[1])]
            numbers = numbers[2:]
            letter = "L"
        before = control
        control = None
        if letter == "Z":
            yield (*line, line[0])
            line = []
        elif letter == "H":
            line += [(x, line[-1][1]) for x in numbers]
        elif letter == "V":
            line += [(line[-1][0], y) for y in numbers]
        elif letter == "L":
            line += list(zip(numbers[::2], numbers[1::2], strict=True))
        elif letter == "Q":
            control = (numbers[0], numbers[1])
            line += _quadratic(line[-1], control, (numbers[2], numbers[3]))
        elif letter == "T":
            x, y = line[-1]
            control = (2 * x - before[0], 2 * y - before[1]) if before is not None else (x, y)
            line += _quadratic(line[-1], control, (numbers[0], numbers[1]))
        else:
            line += _arc(line[-1], numbers)
    if line:
        yield tuple(line)


def _quadratic(start: SignPoint, control: SignPoint, end: SignPoint) -> list[SignPoint]:
    points = []
    for step in range(1, _CURVE_STEPS + 1):
        t = step / _CURVE_STEPS
        a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t**2
        points.append(tuple(a * p + b * q + c * r for p, q, r in zip(start, control, end, strict=True)))
    return points  # type: ignore[return-value]


def _arc(start: SignPoint, numbers: list[float]) -> list[SignPoint]:
    """A circle's arc from its ends: SVG 2, B.2.4, for equal radii that are not turned."""
    radius, _, _, large, sweep, x, y = numbers
    (x1, y1), (x2, y2) = start, (x, y)
    half = math.hypot(x2 - x1, y2 - y1) / 2
    radius = max(radius, half)
    away = math.sqrt(max(0.0, radius**2 - half**2)) / (2 * half)
    side = 1 if (large != 0) != (sweep != 0) else -1
    cx = (x1 + x2) / 2 + side * away * (y1 - y2)
    cy = (y1 + y2) / 2 + side * away * (x2 - x1)
    first, last = math.atan2(y1 - cy, x1 - cx), math.atan2(y2 - cy, x2 - cx)
    turn = last - first
    if sweep and turn < 0:
        turn += 2 * math.pi
    elif not sweep and turn > 0:
        turn -= 2 * math.pi
    steps = max(2, round(abs(turn) / _ARC_STEP))
    return [
        (cx + radius * math.cos(first + turn * k / steps), cy + radius * math.sin(first + turn * k / steps))
        for k in range(1, steps + 1)
    ]
