"""What English sentences to train on are made of."""

from __future__ import annotations

from random import Random

from models.build.language import SentenceWords

_SMALL = """
    the a an of to and in is it that for on with as at by this from or are was be not have had his her they we you i one
    all there so what when up out if about who would can more no will my their into than some could then other
"""
# Numbers that sound alike are where a reading goes wrong.
_TEENS = ["thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
_TENS = ["thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_ONES = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "oh"]
_ORDINALS = (
    *("third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "sixteenth", "thirty second"),
    *("thirds", "fourths", "fifths", "eighths", "sixteenths", "thirty seconds"),
)
_AROUND = ("", "", "percent", "millimeters", "minutes", "degrees", "inches", "square inches", "bags")


def _alike(random: Random) -> str:
    """Teens, tens and ordinals, alone or with a unit."""
    first = random.choice((_TEENS, _TENS, _ORDINALS))
    words = random.choice(first)
    if first is _TENS and random.random() < 0.4:
        words += f" {random.choice(_ONES[1:10])}"
    if first is _ORDINALS:
        words = f"{random.choice(('a', *_ONES[1:10]))} {words}"
    return f"{words} {random.choice(_AROUND)}".strip()


SENTENCES = SentenceWords(tuple(_SMALL.split()), tuple(_ONES), _AROUND, _alike)
