"""The tables of a day's sequence that go with its pages (`report.sequence`): whether they tell what the record tells.

No page shows them, and programs read them: whoever signs a file could lay others beside good pages. The same record
gives the same tables in the same language and units, so they are made again here and compared. Another version may tell
the same record in other words: what it made is not judged.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened
from fieldassist.extras import lacking
from fieldassist.language import Words
from fieldassist.proof.verdict import WHOLE, Findings, short_name, some
from fieldassist.record.chain import Chain
from fieldassist.record.manifest import SEQUENCE_CSV, SEQUENCE_JSON
from fieldassist.trade.quantities import Units


def check_tables(
    files: Mapping[str, Sequence[bytes]], chain: Chain, program: str, language: str, gravity: int, found: Findings
) -> None:
    """Say which of the attached tables are not what the record gives.

    Parameters: files, what is attached, by name, each copy of it; chain, a whole record; program, which the manifest
    names; language, that of the pages; gravity, how grave another table of this very version is.
    """
    attached = {name: files[name] for name in (SEQUENCE_CSV, SEQUENCE_JSON) if name in files}
    if not attached:
        return
    other_version = program != f"fieldassist {__version__}"
    named, worst = some(sorted(attached)), WHOLE if other_version else gravity
    try:
        differing = _differing(attached, chain, language)
    except MemoryError:
        raise
    except Exception as problem:
        library = lacking(problem)
        if library is not None:
            found.say("tables-need-more", files=named, library=library)
        else:
            # Whatever trips over events that need not make sense, or a language that there are no words in here.
            found.say("tables-not-compared", worst, files=named, why=short_name(str(problem)))
        return
    if not differing:
        return
    if other_version:
        found.say("tables-of-another-version", files=some(differing), program=program, version=__version__)
    else:
        found.say("tables-differ", worst, files=some(differing))


def _differing(tables: Mapping[str, Sequence[bytes]], chain: Chain, language: str) -> list[str]:
    """The names of those that the record gives in neither system of units."""
    # Whoever checks a log has no use for what tells its facts.
    from fieldassist.facts.build import day_facts
    from fieldassist.report.sequence import sequence_files

    opened = chain.events[0].body
    assert isinstance(opened, DayOpened)
    first: Units = opened.plan.units
    left = dict(tables)
    for units in (first, "metric" if first == "us" else "us"):
        made = sequence_files(day_facts(chain.events, chain.hashes, Words(language, units)))
        left = {name: each for name, each in left.items() if any(one != made[name] for one in each)}
        if not left:
            break
    return sorted(left)
