"""The results as tables in Markdown, with the bars that are to be met."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fieldassist.day.rejection import Ruling
from tests.bench.voice.base import UNDERSTOOD, Result

Row = Mapping[str, Any]
# What is asked of the voice; our own bars.
NATIVE_SHARE, ACCENT_SHARE = 0.98, 0.85
NOISE_SHARES = {"clean": NATIVE_SHARE, "pink, 10 dB": 0.97, "saw, 10 dB": 0.93}
DIGITS_SHARE, SPEAKER_SHARE, STRINGS_SHARE = 0.93, 0.88, 0.80
COMMANDS_AN_HOUR = {"no attention phrase": 4.0, "attention phrase": 0.0}
REAL_TIME, LATENCY_S, WAIT_S, MEMORY_MB = 0.1, 0.3, 0.6, 250.0
_LEAST_READINGS, _LEAST_HOURS, _LEAST_PHRASES = 990, 0.99, 200


def write(results: Row) -> str:
    """Everything that was measured."""
    rival = results.get("rival") or "the rival"
    parts = [_header(results), _bars(results)]
    if "phrases" in results:
        parts += [_phrases(results["phrases"]), _beside_rival(results["phrases"], rival)]
    if results.get("people"):
        parts.append(_people(results["people"], rival))
    if results.get("speakers"):
        parts.append(_speakers(results["speakers"]))
    if results.get("beyond"):
        parts.append(_beyond(results["beyond"]))
    if "dialogue" in results:
        parts += [
            _dialogue(results["dialogue"]),
            _dialogue_beside_rival(results["dialogue"], rival),
            _gaps(results["dialogue"]["gaps"]),
        ]
    if "overheard" in results:
        parts.append(_talk(results["overheard"], results["talk"]))
    if "accented talk" in results:
        parts.append(_talk(results["accented talk"], results["accented talk"]["talk"], "Accented talk"))
    if "limits" in results:
        parts.append(_limits(results["limits"]))
    if "devices" in results:
        parts.append(_devices(results["devices"]))
    if "speed" in results:
        parts.append(_speed(results["speed"], rival))
    return "\n\n".join(part for part in parts if part) + "\n"


def _header(results: Row) -> str:
    lines = [f"Voices, none of them in the model's training: {', '.join(results['voices'])}."]
    if results["missing"]:
        lines.append(f"Left out: {'; '.join(results['missing'])}.")
    return " ".join(lines)


def _bars(results: Row) -> str:
    """What is asked of the voice, and whether it is met, the worst speaker or accent named."""
    lines: list[tuple[str, str, str]] = []

    def add(what: str, least: float, right: int, said: int, worst: str = "") -> None:
        found = f"{share(right, said)} of {said}{worst}"
        lines.append((f"{what}: {100 * least:.0f} %", found, met(right >= least * said)))

    said = results.get("speakers") or []
    for condition, bar in NOISE_SHARES.items():
        native = [row for row in said if not row["accent"] and row["condition"] == condition]
        if native:
            worst = _worst([(row["throat"], row["after"] in _GOOD) for row in native])
            add(f"native voices, {condition}", bar, sum(row["after"] in _GOOD for row in native), len(native), worst)
    accented = [row for row in said if row["accent"] and row["condition"] == "clean"]
    if accented:
        worst = _worst([(row["accent"], row["after"] in _GOOD) for row in accented])
        add("accents, clean", ACCENT_SHARE, sum(row["after"] in _GOOD for row in accented), len(accented), worst)
        done = sum(Result.WRONG.value in (row["result"], row["after"]) for row in accented)
        lines.append(("accents, wrong commands done: 0", str(done), met(done == 0)))
    for row in results.get("people") or []:
        bar = {"single digits": DIGITS_SHARE, "strings of four digits, spliced": STRINGS_SHARE}.get(row["recordings"])
        if bar is not None and row["condition"] == "as recorded":
            shares = [(f"speaker {who}", theirs["right"] / theirs["said"]) for who, theirs in row["speakers"].items()]
            who, least = min(shares, key=lambda one: one[1])
            add(row["recordings"], bar, row["right"], row["said"], f"; worst {who} {100 * least:.1f} %")
            if row["recordings"] == "single digits":
                lines.append(
                    (f"each speaker: {100 * SPEAKER_SHARE:.0f} %", f"{100 * least:.1f} %", met(least >= SPEAKER_SHARE))
                )
    for name in ("accented talk", "overheard"):
        for manner, most in COMMANDS_AN_HOUR.items():
            mine = [row for row in results.get(name, {}).get("rows", ()) if row["manner"] == manner]
            hours = sum(row["seconds"] for row in mine) / 3600
            rate = sum(row["done"] for row in mine) / hours if hours else 0.0
            if mine:
                what = f"{name}, {manner}: at most {most:g} an hour"
                found = f"{rate:.1f} in {60 * hours:.0f} min"
                lines.append((what, found, met(rate <= most, enough=hours >= _LEAST_HOURS)))
    if "dialogue" in results:
        count, silent = results["dialogue"]["readings"], results["dialogue"]["silent wrong"]
        found = f"{silent} of {count}"
        lines.append(("readings kept wrong: 0 of 1,000", found, met(silent == 0, enough=count >= _LEAST_READINGS)))
    return "### Bars\n\n" + table(["bar", "measured", ""], lines) if lines else ""


def _worst(found: Sequence[tuple[str, bool]]) -> str:
    names = {name for name, _ in found}
    shares = {name: [right for who, right in found if who == name] for name in names}
    name = min(sorted(names), key=lambda one: sum(shares[one]) / len(shares[one]))
    return f"; worst {name} {share(sum(shares[name]), len(shares[name]))}"


_GOOD = frozenset(one.value for one in UNDERSTOOD)


def table(heads: Sequence[str], rows: Sequence[Sequence[object]]) -> str:
    """A Markdown table.

    >>> print(table(["a", "b"], [[1, "x"]]))
    | a | b |
    |---|---|
    | 1 | x |
    """
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join(
        "|" + "|".join(str(c) for c in line) + "|" if place == 1 else "| " + " | ".join(str(c) for c in line) + " |"
        for place, line in enumerate(lines)
    )


def an_hour(count: float, hours: float) -> str:
    """So many in so many hours, as so many an hour.

    >>> an_hour(2, 0.5), an_hour(0, 0)
    ('4.0', '-')
    """
    return f"{count / hours:.1f}" if hours else "-"


def share(count: float, of: float) -> str:
    """A share in percent.

    >>> share(19, 20), share(0, 0)
    ('95.0 %', '-')
    """
    return f"{100 * count / of:.1f} %" if of else "-"


def met(is_met: bool, *, enough: bool = True) -> str:
    """Whether a bar is met. enough: as much was measured as the bar speaks of; with less, it can only be missed.

    >>> met(True), met(True, enough=False), met(False, enough=False)
    ('met', 'too little measured to tell', '**not met**')
    """
    if not is_met:
        return "**not met**"
    return "met" if enough else "too little measured to tell"


def _of(counts: Row, *results: Result) -> int:
    return sum(counts.get(one.value, 0) for one in results)


def _phrases(rows: Sequence[Row]) -> str:
    heads = [
        "noise",
        "said",
        "right",
        'right, but asked "did you say"',
        "asked back",
        "ignored",
        "wrong reading, read back",
        'wrong, but asked "did you say"',
        "wrong, refused by the sequence",
        "wrong, done",
        "with a value: right",
        "right after the dialogue",
        "bar",
    ]
    lines = []
    for row in rows:
        first, after, said = row["results"], row["after"], row["said"]
        bar = NOISE_SHARES.get(row["condition"])
        reached = _of(after, *UNDERSTOOD)
        verdict = f"{100 * bar:.0f} %: {met(reached >= bar * said, enough=said >= _LEAST_PHRASES)}" if bar else "none"
        each = [share(_of(first, result), said) for result in _ORDER]
        valued = share(_of(row["valued results"], *UNDERSTOOD), row["valued"])
        lines.append([row["condition"], said, *each, f"{valued} of {row['valued']}", share(reached, said), verdict])
    return (
        "### Phrases and numbers\n\n"
        'Held key, lists of real steps and of a whole day. "After the dialogue": what was asked back, ignored, read '
        'back wrong or doubted wrong is said once more, at another speed; that its "no" is heard is assumed here.\n\n'
        + table(heads, lines)
    )


_ORDER = (
    Result.RIGHT,
    Result.DOUBTED,
    Result.ASKED,
    Result.IGNORED,
    Result.READ_BACK,
    Result.WRONG_DOUBTED,
    Result.REFUSED,
    Result.WRONG,
)
_ALL_WRONG = (Result.READ_BACK, Result.WRONG_DOUBTED, Result.REFUSED, Result.WRONG)


def _beside_rival(rows: Sequence[Row], rival: str) -> str:
    lines = []
    for row in rows:
        said = row["rival said"]
        if said:
            ours, theirs = row["ours beside rival"], row["rival results"]
            right = [share(_of(counts, *UNDERSTOOD), said) for counts in (ours, theirs)]
            wrong = [share(_of(counts, *_ALL_WRONG), said) for counts in (ours, theirs)]
            lines.append([row["condition"], said, *right, *wrong])
    if not lines:
        return ""
    heads = ["noise", "said", "right, ours", f"right, {rival}", "wrong, ours", f"wrong, {rival}"]
    return (
        f"{rival} with the same phrases as a JSGF list (and the spoken sentences, so that nothing is outside it), on "
        "some of the same recordings; first try:\n\n" + table(heads, lines)
    )


def _people(rows: Sequence[Row], rival: str) -> str:
    lines = [
        [
            row["recordings"],
            row["condition"],
            row["said"],
            share(row["right"], row["said"]),
            _each_speaker(row, "right"),
            share(row["asked or ignored"], row["said"]) if "asked or ignored" in row else "-",
            share(row["right, said alone"], row["said"]) if "right, said alone" in row else "-",
            _each_speaker(row, "right, said alone") if "right, said alone" in row else "",
            share(row["rival right"], row["said"]) if "rival right" in row else "-",
        ]
        for row in rows
    ]
    heads = [
        "recordings",
        "noise",
        "said",
        "right",
        "by speaker",
        "asked back or ignored",
        "right, ten digits listed",
        "by speaker",
        rival,
    ]
    return (
        "### Recordings of people\n\n"
        '"Right": among digit strings of any length; the rival hears single digits among ten digits only, as in the '
        "column before it. A few people are no test set: the next one may be heard far worse.\n\n" + table(heads, lines)
    )


def _each_speaker(row: Row, what: str) -> str:
    found = row.get("speakers", {})
    return ", ".join(f"{letter} {theirs[what]}/{theirs['said']}" for letter, theirs in sorted(found.items()) if letter)


def _speakers(rows: Sequence[Row]) -> str:
    """Voices by condition, accents by throat, and each accent's kinds of sentences."""
    lines = []
    groups: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        groups.setdefault((row["accent"], row["condition"]), []).append(row)
    for (accent, condition), said in sorted(groups.items(), key=lambda one: (bool(one[0][0]), one[0][1], one[0][0])):
        lines.append([accent or "native", condition, *_outcome(said)])
    for name, chosen in (
        ("**native, clean**", [row for row in rows if not row["accent"] and row["condition"] == "clean"]),
        ("**accents, clean**", [row for row in rows if row["accent"] and row["condition"] == "clean"]),
    ):
        if chosen:
            lines.append([name, "clean", *_outcome(chosen)])
    heads = [
        "accent",
        "noise",
        "said",
        "right",
        "right after the dialogue",
        "phrases / with a value, right after the dialogue",
        "asked back",
        "ignored",
        "read back wrong",
        "wrong but asked",
        "refused",
        "wrong, done (in the end)",
        "by throat: right after the dialogue",
    ]
    return (
        "### Speaker by speaker\n\n"
        'Key held; accents by rule, no recorded learners. "Right" counts what was asked about with "did you say". '
        '"After the dialogue": what was asked back, ignored or read back wrong is said once more.\n\n'
        + table(heads, lines)
    )


def _outcome(said: Sequence[Row]) -> list[object]:
    def right(rows: Sequence[Row], when: str) -> int:
        return sum(row[when] in _GOOD for row in rows)

    def came(result: Result, when: str = "result") -> int:
        return sum(row[when] == result.value for row in said)

    count = len(said)
    kinds = [[row for row in said if row["valued"] is valued] for valued in (False, True)]
    throats: dict[str, list[Row]] = {}
    for row in said:
        throats.setdefault(row["throat"], []).append(row)
    return [
        count,
        share(right(said, "result"), count),
        share(right(said, "after"), count),
        " / ".join(f"{right(kind, 'after')} of {len(kind)}" for kind in kinds),
        *(came(result) for result in _NOT_RIGHT),
        f"{came(Result.WRONG)} ({came(Result.WRONG, 'after')})",
        ", ".join(f"{name} {right(theirs, 'after')}/{len(theirs)}" for name, theirs in throats.items()),
    ]


def _beyond(rows: Sequence[Row]) -> str:
    lines = [
        [row["condition"], row["said"], *(row[came] for came in ("as said", "another value", "nothing"))]
        for row in rows
    ]
    heads = ["noise", "said", "heard as said", "taken for another value", "not understood"]
    return "### Values beyond the range\n\nUp to twice what a step would take.\n\n" + table(heads, lines)


_NOT_RIGHT = (Result.ASKED, Result.IGNORED, Result.READ_BACK, Result.WRONG_DOUBTED, Result.REFUSED)


def _dialogue(found: Row) -> str:
    count, silent = found["readings"], found["silent wrong"]
    lines = [
        ["wrong and kept (silent)", silent, f"0 in 1,000: {met(silent == 0, enough=count >= _LEAST_READINGS)}"],
        *([what, counted, ""] for what, counted in _outcomes(found)),
    ]
    noise = "; ".join(
        f"{name}: {kept['right']} right, {kept['wrong']} wrong, {kept['given up']} given up"
        for name, kept in found["by noise"].items()
    )
    # None in n trials: the true share lies under 3/n at 95 % confidence (the rule of three).
    unseen = (
        f" None in {count} means under {3000 / count:.1f} in 1,000, at 95 % confidence." if count > silent == 0 else ""
    )
    return (
        f"### Readings with their dialogue: {count}\n\n"
        "Through a real day and log. Whoever speaks is taken to notice every wrong value that is read back, answers in "
        "the same voice and noise, and goes on with the work where nothing asks. So a silent wrong one is an answer "
        f"misheard, and the wrong values read back are what rests on attention.{unseen}\n\n"
        + table(["", "count", "bar"], lines)
        + f"\n\n{noise}."
        + table(["", "count", "bar"], lines)
        + f"\n\n{noise}."
    )


def _outcomes(found: Row) -> list[tuple[str, Any]]:
    count = found["readings"]
    return [
        ("kept right", _part(found["right"], count)),
        ("of them at the first try", _part(found["right at the first try"], count)),
        ("given up after four tries, or answered by touch", found["given up"]),
        ("a wrong value read back, caught by whoever listens", found["wrong read back"]),
        ("of these digit by digit", _part(found["of them digit by digit"], found["wrong read back"])),
        ("a right value read back", found["right read back"]),
        ("of these digit by digit", _part(found["of those digit by digit"], found["right read back"])),
        ("answers (yes, no) not heard or misheard", found["answers misheard"]),
        ("another command done instead", found["other commands done"]),
        ("a right value that waited for no yes", found["right unquestioned"]),
        ("a wrong value that waited for no yes: only its read-back tells", found["wrong unquestioned"]),
        ("kept by the next phrase", found["kept by the next phrase"]),
    ]


def _dialogue_beside_rival(found: Row, rival: str) -> str:
    ours, theirs = found["ours beside rival"], found["rival"]
    if not theirs["readings"]:
        return ""
    pairs = zip(_outcomes(ours), _outcomes(theirs), strict=True)
    lines = [
        ["wrong and kept (silent)", ours["silent wrong"], theirs["silent wrong"]],
        *([what, mine, its] for (what, mine), (_, its) in pairs),
    ]
    return (
        f"{theirs['readings']} of these readings also through {rival}, in the same dialogue, on the same recordings "
        "(with what is spoken in its list):\n\n" + table(["", "ours", rival], lines)
    )


def _part(count: int, of: int) -> str:
    return f"{count} ({share(count, of)})"


def _gaps(gaps: Row) -> str:
    lines = [
        [
            f"{one['limit']:g}",
            _part(one["wrong flagged"], gaps["wrong"]),
            _part(one["right flagged"], gaps["right"]),
        ]
        for one in gaps["limits"]
    ]
    return (
        f"Score gap to the best other value, {gaps['right']} right and {gaps['wrong']} wrong readings; "
        f"{gaps['right without a rival']} right and {gaps['wrong without a rival']} wrong ones had no other value at "
        "all. Every try counts, so that one reading may stand in it several times:\n\n"
        + table(["CLOSE_RIVAL, nats", "wrong ones flagged", "right ones flagged"], lines)
    )


def _talk(found: Row, sources: Mapping[str, float], head: str = "Talk") -> str:
    lines = []
    rows = found["rows"]
    for manner in dict.fromkeys(row["manner"] for row in rows):
        mine = [row for row in rows if row["manner"] == manner]
        for row in mine:
            lines.append([manner, row["prompt"], *_hour([row]), ""])
        bar = COMMANDS_AN_HOUR.get(manner)
        hours = sum(row["seconds"] for row in mine) / 3600
        rate = sum(row["done"] for row in mine) / hours if hours else 0.0
        verdict = (
            f"at most {bar:g} an hour: {met(rate <= bar, enough=hours >= _LEAST_HOURS)}" if bar is not None else "none"
        )
        lines.append([manner, "**all**", *_hour(mine), verdict])
    heads = ["manner", "prompt", "minutes", "commands done", "refused", "asked back", "commands an hour", "bar"]
    material = ", ".join(f"{name} {seconds / 60:.1f} min" for name, seconds in sources.items())
    return (
        f"### {head} at an open microphone\n\n"
        f"Recordings in one stream with pauses of 0.4 to 2 s ({material}; parts of it are heard at more than "
        "one prompt). A command done changes the record or would; one refused is only answered.\n\n"
        + table(heads, lines)
    )


def _limits(found: Row) -> str:
    hours = sum(found["seconds"].values()) / 3600

    def right(counts: Row) -> str:
        return f"{counts['right']} of {counts['said']} ({counts['wrong']} wrong)" if counts["said"] else "-"

    by_limit = [
        [row["kind"], f"{row['limit']:g}", right(row["native"]), right(row["accents"]), an_hour(row["talk"], hours)]
        for row in found["by limit"]
    ]
    by_accent = [
        [
            row["who"],
            row["where"],
            row["said"],
            *(f"{row[f'right, {came}']} / {row[f'wrong, {came}']}" for came in (ruling.value for ruling in Ruling)),
        ]
        for row in found["by accent"]
    ]
    talk = [
        [
            row["who"],
            row["manner"],
            *(an_hour(row.get(ruling.value, 0), found["seconds"][row["who"]] / 3600) for ruling in Ruling),
        ]
        for row in found["talk"]
    ]
    heads = [
        "what was understood",
        "limit, nats",
        "right, native, half in noise",
        "right, accents",
        "talk at any prompt, an hour",
    ]
    came = [ruling.value for ruling in Ruling]
    return (
        f"### The limits of rejection: {60 * hours:.0f} minutes of talk\n\n"
        "Voices, accents and people to tune on, none of what the other tables measure.\n\n"
        + table(heads, by_limit)
        + "\n\nBy the limits of the program, right / wrong:\n\n"
        + table(["voices", "where", "said", *came], by_accent)
        + '\n\nTalk an hour; "just asked": as if the tablet had always asked within the last seconds:\n\n'
        + table(["talk", "manner", *came], talk)
    )


def _hour(rows: Sequence[Row]) -> list[str]:
    seconds = sum(row["seconds"] for row in rows)
    counts = [sum(row[key] for row in rows) for key in ("done", "refused", "asked")]
    rate = 3600 * counts[0] / seconds if seconds else 0.0
    return [f"{seconds / 60:.0f}", *(str(count) for count in counts), f"{rate:.1f}"]


def _devices(rows: Sequence[Row]) -> str:
    lines = []
    for row in rows:
        lines.append(
            [
                row["variant"],
                *(share(row[f"{what}, {manner}"], row[of]) for manner in ("held", "open") for what, of in _WORTH),
            ]
        )
    heads = ["variant", *(f"{what}, {manner}" for manner in ("held", "open") for what, _ in _WORTH)]
    first = rows[0]
    return (
        "### What each device is worth\n\n"
        f"{first['spoken']} spoken sentences (a third each clean, pink and saw at 10 dB), {first['talk']} pieces of "
        f"talk, {first['noise']} of noise alone, each as one recording.\n\n" + table(heads, lines)
    )


_WORTH = (("right", "spoken"), ("wrong", "spoken"), ("talk", "talk"), ("noise", "noise"))


def _speed(found: Row, rival: str) -> str:
    def theirs(key: str, form: str) -> str:
        return format(found[key], form) if key in found else "-"

    lines = [
        [
            "answer on disk after the block that ends an utterance, p50 / p95",
            f"{1000 * found['latency p50']:.0f} / {1000 * found['latency p95']:.0f} ms",
            "-",
            f"300 ms: {met(found['latency p95'] <= LATENCY_S)}",
        ],
        *(
            [
                f"felt wait, {name}: p10 / p50 / p90, and utterances cut in two",
                f"{one['p10']:.2f} / {one['p50']:.2f} / {one['p90']:.2f} s, {one['cut in two']} of {one['answered']}",
                "-",
                f"{WAIT_S:g} s: {met(one['p50'] <= WAIT_S)}",
            ]
            for name, one in found["felt wait"].items()
        ),
        [
            f"processor time to sound, {found['small list']} arcs",
            f"{found['real time, small list']:.3f}",
            theirs("rival real time, small list", ".3f"),
            f"{REAL_TIME:g}: {met(found['real time, small list'] <= REAL_TIME)}",
        ],
        [
            f"processor time to sound, {found['full list']} arcs",
            f"{found['real time, full list']:.3f}",
            theirs("rival real time, full list", ".3f"),
            f"{REAL_TIME:g}: {met(found['real time, full list'] <= REAL_TIME)}",
        ],
        [
            "peak memory of a process that hears",
            f"{found['memory MB']:.0f} MB",
            theirs("rival memory MB", ".0f") + (" MB" if "rival memory MB" in found else ""),
            f"250 MB: {met(found['memory MB'] <= MEMORY_MB)}",
        ],
    ]
    return f"### Time and memory\n\n{found['answered']} of the spoken readings were answered.\n\n" + table(
        ["", "ours", rival, "bar"], lines
    )
