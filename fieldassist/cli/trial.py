"""`fieldassist trial`: a mock-up trial from its file to the method that is released from it."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fieldassist.cli.parser import (
    FAILED,
    FILE,
    FOLDER,
    MISUSED,
    OK,
    Argument,
    Group,
    Job,
    NumberOption,
    Option,
    day_argument,
    json_option,
    people_option,
)
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.places import shipped, tablet_data
from fieldassist.trade.message import Figure, Refused, Several, message

if TYPE_CHECKING:
    from fieldassist.checklist.plan import AreaPlan
    from fieldassist.checklist.schema import Checklist
    from fieldassist.day.session import Answer, Day

_ORDER_FROM = "0" * 64  # a head that no record has


class NoTrial(Refused):
    """There is no trial where one was looked for; `told` says so, and what to do."""


def template() -> Path:
    """The trial file that came with the program, to copy."""
    return shipped("assets") / "trial" / "plan.yaml"


def next_command(terminal: Terminal, *words: str) -> None:
    """What is typed next, on a line of its own, to copy."""
    terminal.tell(f"{this_program()} {shlex.join(words)}", indent=2)


# --- new ----------------------------------------------------------------------------------------------------------


def _new(terminal: Terminal, file: Path) -> int:
    written = template().read_text(encoding="utf-8").replace(" FILE ", f" {shlex.quote(file.name)} ")
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(written)
    except FileExistsError:
        terminal.warn(message("cli-trial-file-there", file=str(file)))
        return MISUSED
    except OSError as error:
        terminal.warn(message("cli-trial-unwritten", file=str(file), why=error.strerror or str(error)))
        return MISUSED
    terminal.tell(message("cli-trial-written", file=str(file)))
    next_command(terminal, "trial", "plan", str(file))
    return OK


# --- plan ---------------------------------------------------------------------------------------------------------


def _plan(terminal: Terminal, file: Path, checklists: Path | None) -> int:
    from fieldassist.checklist.loader import load_folder, load_plan
    from fieldassist.cli.problems import told

    planned = load_plan(file)
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(told(wrong))
    areas = [area for area in planned.areas if area.trial is not None]
    if not areas:
        raise NoTrial(message("cli-trial-none-planned", file=str(file)))
    terminal = terminal.using(terminal.words.in_units(planned.units))
    for area in areas:
        checklist = known.get(area.checklist)
        if checklist is None or checklist.trying is None:
            able = Several(tuple(name for name, one in known.items() if one.trying is not None), "or")
            raise NoTrial(message("cli-trial-checklist", area=area.name, checklist=area.checklist, able=able))
        for line in _design(area, checklist):
            terminal.tell(line)
    terminal.tell("\n" + terminal.say("trial-next-begin"))
    day = file.with_suffix(".db").name
    next_command(terminal, "begin", str(file), day, "--today")
    next_command(terminal, "work", day)
    return OK


def _design(area: AreaPlan, checklist: Checklist) -> Iterator[Figure]:
    """What is tried, what it takes, and what it will be able to tell."""
    from fieldassist.checklist import rules, trying
    from fieldassist.checklist.state import Area
    from fieldassist.trial.design import hopes, needs
    from fieldassist.trial.order import draw_order

    trial = area.trial
    assert trial is not None
    run = trying.letters_run(area, checklist)
    out = trying.ruled_out(area, checklist)
    facts = Area(plan=area, checklist=checklist, method=area.method).facts
    yield message(
        "cli-trial-design",
        area=area.name,
        combinations=len(run),
        repeats=trial.repeats,
        samples=len(run) * trial.repeats,
        required=rules.required_coverage(facts).told,
        readers=Several(trial.readers, "and"),
    )
    for letter, one in trial.by_letter.items():
        bed = f"{trying.looked_at(area, checklist, letter).bed_mm:.1f} mm"
        told: dict[str, Figure] = {"letter": letter, "combination": trying.told(one), "bed": bed}
        if letter in out:
            shown = "yes" if one.shown else "no"
            yield message("cli-trial-out", shown=shown, reasons=Several(out[letter], "clauses"), **told)
        else:
            yield message("cli-trial-in", **told)
    if not run:
        yield message("cli-trial-nothing-runs")
        return
    order = draw_order(run, trial.repeats, trial.a_batch, _ORDER_FROM, {x: trial.by_letter[x].mortar for x in run})
    yield message("cli-trial-order", order=" ".join(order))
    takes = needs(area, run)
    yield message("cli-trial-takes", what=Several(takes.told, "sentences"))
    yield message("cli-trial-assumed", what=Several(takes.assumed, "sentences"))
    yield from hopes(area, run)


# --- ranking ------------------------------------------------------------------------------------------------------


def _ranking(terminal: Terminal, file: Path, area: str | None, as_json: bool) -> int:
    from fieldassist.proof.facts import facts_in

    found = facts_in(file, terminal.words.language)
    trials = {one["name"]: one["trial"] for one in found["areas"] if one["trial"] is not None}
    wanted = {name: trial for name, trial in trials.items() if area is None or name == area.lower()}
    if not wanted:
        areas: Figure = Several(tuple(trials) or ("-",))
        raise NoTrial(message("cli-trial-none-in", file=str(file), areas=areas))
    if as_json:
        terminal.json(wanted, indent=1)
        return OK
    for name, trial in wanted.items():
        terminal.tell(message("cli-trial-made", area=name, made=trial["made"], planned=trial["planned"]))
        if trial["analysis"] is None:
            terminal.tell(message("cli-trial-not-begun", area=name))
            continue
        for line in _ranked(terminal, trial):
            terminal.tell(line)
    return OK


def _ranked(terminal: Terminal, trial: dict[str, Any]) -> Iterator[Figure]:
    """Verdict, table, questions, who read, what was spoiled, what was released: as the facts tell them."""
    said = trial["analysis"]
    if not said["ranking"]:
        yield said["told"][0]["text"]
        return
    yield from (one["text"] for one in said["told"])
    words = {one["letter"]: one["told"]["text"] for one in trial["combinations"]}
    rows = [_row(terminal, one, words[one["letter"]]) for one in said["estimates"] if one["mean"] is not None]
    heads = [terminal.say(f"trial-head-{name}") for name in _COLUMNS]
    yield ""
    yield from _columns([heads, *rows])
    yield ""
    for one in (*said["gains"], trial["agreement"]):
        if one is not None:
            yield one["told"]["text"]
    for one in trial["combinations"]:
        if one["ruled_out"]:
            why = "; ".join(reason["text"] for reason in one["ruled_out"])
            yield message("cli-trial-ruled-out", letter=one["letter"], combination=one["told"]["text"], why=why)
    for one in trial["samples"]:
        if one["spoiled"] is not None:
            why = one["spoiled"]["text"]
            yield message("cli-trial-spoiled", number=str(one["number"]), letter=one["letter"], why=why)
    for one in trial["releases"]:
        areas = Several(tuple(one["areas"]), "and")
        figures = {"letter": one["letter"], "areas": areas, "name": one["by"], "why": one["why"]}
        yield message("cli-trial-released", reason="yes" if one["why"] else "no", **figures)


_COLUMNS = ("rank", "letter", "contact", "chance", "bed", "samples", "what")


def _row(terminal: Terminal, one: dict[str, Any], words: str) -> list[str]:
    from fieldassist.trial.model import whole_percent

    rank = "" if one["first"] is None else str(one["first"])
    if one["last"] is not None and one["last"] != one["first"]:
        rank += f"-{one['last']}"
    interval = "" if one["low"] is None else f" ({whole_percent(one['low'])}-{whole_percent(one['high'])})"
    step = one["chance"]
    return [
        rank if one["eligible"] else terminal.say("trial-shown"),
        one["letter"],
        f"{whole_percent(one['mean'])} %{interval}",
        "" if step is None else terminal.words(message(f"trial-chance-{step.replace(' ', '-')}")),
        "" if one["bed_mm"] is None else f"{one['bed_mm']:.1f} mm",
        str(one["samples"]),
        words,
    ]


def _columns(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    widths = [max(len(row[at]) for row in rows) for at in range(len(_COLUMNS))]
    for row in rows:
        yield "  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()


# --- more, release ------------------------------------------------------------------------------------------------


def _more(terminal: Terminal, day: Path, letters: tuple[str, ...], each: int) -> int:
    from fieldassist.checklist import commands as cmd

    with _at_trial(day, None, terminal.words.language) as opened:
        wanted = cmd.MoreSamples(letters=tuple(letter.upper() for letter in letters), repeats=each)
        return _tell(terminal.using(opened.words), opened.do(wanted))


def _release(
    terminal: Terminal,
    day: Path,
    method: str,
    areas: tuple[str, ...],
    why: str,
    foreman: str | None,
    area: str | None,
    people: Path | None,
) -> int:
    from fieldassist.checklist.plan import Role
    from fieldassist.cli.asking import ask_unseen, keyring

    with _at_trial(day, area, terminal.words.language) as opened:
        terminal = terminal.using(opened.words)
        plan = opened.state.plan
        may = [person.name for person in plan.crew if person.role is Role.FOREMAN] if plan is not None else []
        if foreman is None and len(may) != 1:
            terminal.warn(message("cli-trial-who-releases", names=Several(tuple(may), "or")))
            return MISUSED
        who = may[0] if foreman is None else foreman.lower()
        pin = ask_unseen(terminal, message("cli-ask-pin", name=who))
        keys = keyring(people, opened.state.kind)
        answer = opened.release_method(keys, pin, who, method.upper(), [name.lower() for name in areas], why)
        code = _tell(terminal, answer)
    if code == OK:
        terminal.tell(message("cli-trial-next-released"))
        next_command(terminal, "sign", str(day))
        next_command(terminal, "begin", "plan.yaml", "day.db", "--trial", str(day))
    return code


# --- eyes ---------------------------------------------------------------------------------------------------------


def _eyes(terminal: Terminal, name: str, days: tuple[Path, ...], people: Path | None) -> int:
    """What one reader's eyes are worth, told to nobody but that reader: it takes their PIN."""
    from fieldassist.cli.asking import ask_unseen, keyring
    from fieldassist.day.before import read_state
    from fieldassist.day.clock import SystemClock
    from fieldassist.trial.readers import LEAST_PAIRS_OF_BIAS, agreement, bias, bias_of_pairs, pairs_on_photos
    from fieldassist.trial.samples import samples_of

    name = name.lower()
    states = [read_state(day) for day in dict.fromkeys(days)]
    areas = [area for state in states for area in state.areas.values() if area.plan.trial is not None]
    read = [
        sample
        for area in areas
        for sample in samples_of(area)
        if sample.counts and name in (reading.reader for reading in sample.readings)
    ]
    photos = [(beside, pairs) for state in states for beside, pairs in pairs_on_photos(state, name).items() if pairs]
    if not read and not photos:
        raise NoTrial(message("cli-trial-eyes-nothing", name=name, files=Several(tuple(map(str, days)), "and")))
    pin = ask_unseen(terminal, message("cli-ask-pin", name=name))
    keyring(people, states[0].kind).unlock(name, pin, SystemClock().now())
    apart, off = agreement(read), bias(name, read)
    if apart is not None:
        terminal.tell(apart.told)
    counted = sum(sample.counted is not None for sample in read)
    few = message("cli-trial-eyes-few", name=name, pairs=counted, least=LEAST_PAIRS_OF_BIAS)
    if read:
        terminal.tell(few if off is None else off.told)
    for beside in dict.fromkeys(beside for beside, _ in photos):
        pairs = [pair for of, some in photos if of == beside for pair in some]
        on_photos = bias_of_pairs(name, pairs, beside)
        few = message(
            "cli-trial-eyes-few-photos", name=name, beside=beside, pairs=len(pairs), least=LEAST_PAIRS_OF_BIAS
        )
        terminal.tell(few if on_photos is None else on_photos.told)
    return OK


def _at_trial(path: Path, area: str | None, language: str) -> Day:
    """The day, at the area of its trial. Errors: `NoTrial` where it has none, or several and none is named."""
    from fieldassist.checklist import commands as cmd
    from fieldassist.day.clock import SystemClock
    from fieldassist.day.session import Day
    from fieldassist.record.tablet_days import TabletBook

    day = Day.resume(path, SystemClock(), language=language, book=TabletBook(tablet_data()))
    try:
        trials = [name for name, one in day.state.areas.items() if one.plan.trial is not None]
        wanted = [name for name in trials if area is None or name == area.lower()]
        if len(wanted) != 1:
            figures: dict[str, Figure] = {"file": str(path), "areas": Several(tuple(trials) or ("-",))}
            raise NoTrial(message("cli-trial-which" if wanted else "cli-trial-none-in", **figures))
        if day.state.active != wanted[0]:
            answer = day.do(cmd.StartArea(area=wanted[0]))
            if not answer.taken:
                raise NoTrial(message("cli-trial-not-there", area=wanted[0], why=answer.say))
    except BaseException:
        day.close()
        raise
    return day


def _tell(terminal: Terminal, answer: Answer) -> int:
    (terminal.tell if answer.taken else terminal.warn)(answer.say)
    return OK if answer.taken else FAILED


class _LetterPart(click.ParamType[str]):
    """A combination of a trial, by its letter."""

    name = "letter"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        from fieldassist.checklist.plan import LETTERS
        from fieldassist.cli.parser import Misuse

        if str(value).upper() not in tuple(LETTERS):
            raise Misuse("trial-no-letter", ctx, value=str(value))
        return str(value).upper()


_LETTER = _LetterPart()

job = Group(
    "trial",
    Job("new", _new, Argument("file", metavar="FILE", type=FILE), words="trial-new"),
    Job(
        "plan",
        _plan,
        Argument("file", metavar="FILE", type=FILE),
        Option("--checklists", metavar="DIR", type=FOLDER, words="begin-checklists"),
        words="trial-plan",
    ),
    Job(
        "ranking",
        _ranking,
        Argument("file", metavar="DAY", type=FILE),
        Option("--area", metavar="NAME", words="trial-area"),
        json_option(),
        words="trial-ranking",
    ),
    Job(
        "more",
        _more,
        day_argument(),
        Argument("letters", metavar="LETTER", type=_LETTER, nargs=-1, required=True),
        Option("--each", metavar="NUMBER", type=NumberOption(int), default=1),
        words="trial-more",
    ),
    Job(
        "release",
        _release,
        day_argument(),
        Option("--method", metavar="LETTER", type=_LETTER, required=True),
        Option("--areas", metavar="NAME", many=True, required=True),
        Option("--why", metavar="TEXT", default=""),
        Option("--as", "foreman", metavar="NAME"),
        Option("--area", metavar="NAME", words="trial-area"),
        people_option(),
        words="trial-release",
    ),
    Job(
        "eyes",
        _eyes,
        Argument("name", metavar="NAME"),
        Argument("days", metavar="DAY", type=FILE, nargs=-1, required=True),
        people_option(),
        words="trial-eyes",
    ),
)
