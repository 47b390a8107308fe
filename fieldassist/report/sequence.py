"""The whole sequence of a day as a table that goes with its pages: for spreadsheets, and for programs.

Both files are made of the record, in the language and units of the pages: whoever prints the record again gets the
same. sequence.csv is RFC 4180 with its line ends, in UTF-8 behind a byte order mark, since that is what spreadsheets
need to read letters beyond ASCII; sequence.json (RFC 8259) has no mark and holds the figures apart as well.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from typing import Any

from fieldassist.facts.model import DayFacts
from fieldassist.record.manifest import SEQUENCE_CSV, SEQUENCE_JSON

# As `EntryFact` names them, so that both files and the facts have one set of names; what is told comes last.
COLUMNS = (
    "event",
    "at",
    "by",
    "how",
    "together",
    "part",
    "area",
    "section",
    "round",
    "step",
    "kind",
    "value",
    "unit",
    "verdict",
    "no_longer",
    "stands_out",
)
# What a spreadsheet would take for a formula, the wide forms of those signs too: a remark must not run. It does not
# begin with the text alone: a spreadsheet that parts cells by something else than a comma, as some countries have it,
# begins a cell behind that, and it may pass over blanks, quotes and what has no width.
_ENDS = r";|\t\r\n"
_BLANKS = rf"(?:(?![{_ENDS}])[\s\"\x00-\x1f\xad\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff])*+"
_NUMBER = rf"[+-]?[0-9]+(?:\.[0-9]+)?{_BLANKS}(?:[{_ENDS}]|\Z)"
_FORMULA = re.compile(rf"(\A|[{_ENDS}])(?={_BLANKS}(?!{_NUMBER})[=+\-@\uff1d\uff0b\uff0d\uff20])")


def sequence_files(facts: DayFacts) -> Mapping[str, bytes]:
    """Both files, by their names."""
    return {SEQUENCE_CSV: sequence_csv(facts), SEQUENCE_JSON: sequence_json(facts)}


def sequence_csv(facts: DayFacts) -> bytes:
    """A line an event, below a line of heads."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow((*COLUMNS, "told"))
    for entry in facts.sequence:
        writer.writerow([*(_cell(getattr(entry, column)) for column in COLUMNS), _cell(entry.told.text)])
    return text.getvalue().encode("utf-8-sig")


def _cell(value: Any) -> str:
    """A value as a spreadsheet shall show it: as text behind an apostrophe where it would be a formula.

    >>> _cell("=2+3"), _cell("-3"), _cell("-3 apples"), _cell(None), _cell(True), _cell("so;=2+3;-3")
    ("'=2+3", '-3', "'-3 apples", '', 'yes', "so;'=2+3;-3")
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return _FORMULA.sub(r"\1'", str(value))


def sequence_json(facts: DayFacts) -> bytes:
    """The entries as the facts have them, in their order, each on a line of its own."""
    lines = ",\n".join(entry.model_dump_json() for entry in facts.sequence)
    return f"[\n{lines}\n]\n".encode()
