"""Days to tell: a small checklist and plan of ours, driven through the real engine.

Place, people and products are invented. Where a figure is an acceptance criterion, the checklist names its source.
"""

from __future__ import annotations

import copy
import functools
import hashlib
import io
import math
import re
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from fieldassist.checklist import cautions, engine
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.backs import MeasuredBack, back_of
from fieldassist.checklist.contradictions import surface_set
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.moment import CLOCK, TYPED, Moment, Source
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.checklist.recorded import recorded
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import State
from fieldassist.record.back_cells import cells_png
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash
from fieldassist.record.keys import SigningKey
from fieldassist.record.picture import packed, printable_copy
from fieldassist.record.seal import make_seal
from fieldassist.report.daily import Record, write_daily_pdf
from fieldassist.trade.voids import BackCells, painted_doubt, reckon, void_as_read

CHECKLIST: dict[str, Any] = {
    "checklist": "test-wet-wall",
    "edition": 3,
    "title": "Wet wall for tests",
    "place": "wet",
    "surface": "wall",
    "products": ["tile"],
    "cautions": [
        {
            "id": "wet-cement",
            "before": "area",
            "text": "Wet mortar burns skin and eyes. Wear gloves and goggles; wash splashes off at once.",
            "basis": "NIOSH and CPWR cement skin guides, 2000",
        },
        {
            "id": "mixer",
            "before": "batch",
            "text": "Plug the mixer into a ground-fault protected outlet.",
            "basis": "29 CFR 1926.404(b)(1), or the local rule",
            "answered_by": "going on",
        },
    ],
    "clocks": [
        {
            "id": "pot-life",
            "title": "Pot life",
            "rule": "pot life",
            "warn": "10 min",
            "up": "throw the batch away.",
            "ends": "batch",
            "corrective": "discard",
        },
        {"id": "open-time", "title": "Open time", "rule": "open time", "up": "scrape off, comb again.", "ends": "tile"},
    ],
    "sections": [
        {
            "id": "conditions",
            "title": "Conditions",
            "when": "start",
            "steps": [
                {
                    "id": "air-temperature",
                    "kind": "reading",
                    "ask": "Air temperature?",
                    "say": ["air temperature {value}"],
                    "quantity": "temperature",
                    "units": ["degC", "degF"],
                    "limit": {"at_least": 10, "unit": "degC", "basis": "common practice, no published source"},
                    "on_fail": "warm-up",
                },
                {
                    "id": "humidity",
                    "kind": "reading",
                    "ask": "Humidity?",
                    "say": ["humidity {value}"],
                    "quantity": "humidity",
                    "units": ["percent"],
                },
                {"id": "release", "kind": "hold", "by": "foreman", "ask": "Base released?", "say": ["base released"]},
            ],
        },
        {
            "id": "batch",
            "title": "Batch",
            "when": "called",
            "called": ["new batch"],
            "changes": "batch",
            "steps": [
                {"id": "mixed", "ask": "Batch mixed?", "say": ["batch mixed"], "starts": "pot-life"},
                {
                    "id": "slake",
                    "kind": "reading",
                    "ask": "Slaked how long?",
                    "say": ["slake {value}"],
                    "quantity": "duration",
                    "units": ["min"],
                    "limit": {"at_least": 5, "unit": "min", "basis": "common practice, no published source"},
                    "on_fail": "slake-on",
                },
            ],
        },
        {
            "id": "tile",
            "title": "Tile",
            "when": "called",
            "called": ["next tile"],
            "needs": ["batch"],
            "sets": "tile",
            "steps": [
                {"id": "combed", "ask": "Combed?", "say": ["combed"], "starts": "open-time"},
                {"id": "set", "ask": "Set?", "say": ["set"], "stops": "open-time"},
            ],
        },
        {
            "id": "lift",
            "title": "Test tile",
            "when": "due",
            "due": {"after": "tile", "every": "2 m2", "changes": ["method", "batch", "setter"],
                    "basis": "common practice, no published source"},
            "steps": [
                {"id": "lifted", "kind": "lift", "quantity": "label", "ask": "Lift it.", "on_fail": "more-mortar",
                 "say": ["lifted", "tile {value}"], "basis": "ANSI A108.5 §3.3.2"},
                {"id": "photo", "kind": "photo", "ask": "Photo."},
                {"id": "coverage", "kind": "reading", "ask": "Coverage?", "say": ["coverage {value}"],
                 "quantity": "coverage", "units": ["percent"], "measures": "coverage",
                 "limit": {"rule": "required coverage"}},
                {"id": "void", "kind": "reading", "ask": "Largest void?", "say": ["void {value}"],
                 "quantity": "void", "units": ["mm2", "in2"], "measures": "largest void"},
                {"id": "corners", "kind": "choice", "ask": "Corners?", "measures": "corners",
                 "options": [{"id": "full", "say": ["full"], "label": "Corners full"},
                             {"id": "not-full", "say": ["not full"], "label": "A corner is empty", "fails": True}]},
            ],
        },
        {
            "id": "closing",
            "title": "Closing",
            "when": "end",
            "steps": [{"id": "joints", "ask": "Joints clean?", "say": ["joints clean"]}],
        },
    ],
    "correctives": [
        {"id": "warm-up", "title": "Warm the room up",
         "steps": [{"id": "warmed", "ask": "Warmed up?", "say": ["warmed up"]}]},
        {"id": "slake-on", "title": "Let it slake longer",
         "steps": [{"id": "slaked-on", "ask": "Slaked on?", "say": ["slaked on"]}]},
        {"id": "more-mortar", "title": "Scrape off and set with more mortar", "tighten": {"lifts": 2},
         "steps": [{"id": "scraped", "ask": "Scraped?", "say": ["scraped"]},
                   {"id": "set-again", "ask": "Set again?", "say": ["set again"]}]},
        {"id": "discard", "title": "Throw the batch away", "then": "go on",
         "steps": [{"id": "discarded", "ask": "Discarded?", "say": ["discarded"]}]},
    ],
}  # fmt: skip

TROWEL = {"family": "square", "width": "1/2 in", "depth": "1/2 in", "spacing": "1/2 in"}


def plan_of(units: str = "metric", areas: tuple[str, ...] = ("shower wall", "plunge pool")) -> dict[str, Any]:
    """The plan as a file would hold it."""
    return {
        "site": "Žofín Quay Baths, north hall",
        "address": "Łąkowa 12, Port Élan",
        "owner": "Ærø & Daughters Bathing Society",
        "date": "2026-03-04",
        "units": units,
        "crew": [
            {"name": "ana", "role": "installer"},
            {"name": "ben", "role": "installer"},
            {"name": "ruth", "role": "foreman"},
        ],
        "areas": [
            {
                "name": name,
                "checklist": "test-wet-wall",
                "where": "ground floor, bay 2",
                "size": "9.6 m2",
                "piece": {
                    "product": "tile",
                    "length": "1200 mm",
                    "width": "600 mm",
                    "thickness": "9 mm",
                    "warpage": "0.8 mm",
                },
                "mortar": {
                    "name": "Harbour mortar",
                    "kind": "large-and-heavy-tile",
                    "marking": "C2TE S1",
                    "pot_life": "60 min",
                    "open_time": "20 min",
                },
                "method": TROWEL,
                "joint": "3 mm",
            }
            for name in areas
        ],
        "methods": {"large": {**TROWEL, "width": "5/8 in", "depth": "5/8 in", "spacing": "5/8 in", "sides": "both"}},
    }


@functools.cache
def picture(number: int) -> bytes:
    """A small JPEG that differs from every other."""
    paper = io.BytesIO()
    Image.new("RGB", (64, 48), (number % 256, 90, 200)).save(paper, "JPEG", comment=str(number).encode())
    return paper.getvalue()


# Keys of nobody: their seeds stand here for all to read.
RUTH = SigningKey("ruth", Role.FOREMAN, b"\x05" * 32)


# Where the back lies in a photo: its left, upper, right and lower end by shares.
BACK_BOX = (0.1, 0.15, 0.9, 0.85)


def photo_of_back(number: int) -> bytes:
    """A photo of a back on a floor: bare clay with mortar over all but its middle; it differs from every other."""
    photo = Image.new("RGB", (640, 366), (90, 92, 96))
    left, top, right, bottom = (round(share * side) for share, side in zip(BACK_BOX, photo.size * 2, strict=True))
    photo.paste((168, 164, 156), (left, top, right, bottom))
    photo.paste(
        (150, 96, 66),
        ((left + right) // 2 - 50, (top + bottom) // 2 - 50, (left + right) // 2 + 50, (top + bottom) // 2 + 50),
    )
    paper = io.BytesIO()
    photo.save(paper, "JPEG", comment=str(number).encode())
    return paper.getvalue()


def measured_back(
    photo: str, percent: float, low: float, high: float, files: dict[str, bytes], voids: int = 1, **other: Any
) -> MeasuredBack:
    """What was measured on a photo of this hash: a void in the middle, or four rows of so many, together as large as
    the percentage says; its files are kept with the others. Of a painted back the interval is that of its strokes."""
    size, rows = (1200.0, 600.0), 1 if voids == 1 else 4
    side = math.sqrt((100 - percent) / 100 * size[0] * size[1] / (rows * voids))
    cells = Image.new("L", (600, 300), 255)
    # None lies in the strip along the edges, but where they are that large.
    for y in (45 + 210 * (at + 0.5) / rows for at in range(rows)):
        for x in (45 + 510 * (at + 0.5) / voids for at in range(voids)):
            cells.paste(0, (round(x - side / 4), round(y - side / 4), round(x + side / 4), round(y + side / 4)))
    painted = other.get("way") == "painted"
    done = reckon(BackCells(cells.tobytes(), 600, (2.0, 2.0)), painted=painted)
    if painted:
        doubt = painted_doubt(done, size[0] * size[1])
        low, high = max(0.0, done.percent - doubt), min(100.0, done.percent + doubt)
    taken = files.get(f"{photo[:16]}.jpg")
    whole = Image.new("RGB", (64, 48)) if taken is None else Image.open(io.BytesIO(taken)).convert("RGB")
    left, top, right, bottom = BACK_BOX
    box = (left * whole.width, top * whole.height, right * whole.width, bottom * whole.height)
    kept: dict[str, str] = {}
    squared = packed(whole.resize((600, 300), Image.Resampling.BILINEAR, box), 90)
    for what, data, suffix in (
        ("picture", squared, "jpg"),
        ("cells", cells_png(BackCells(cells.tobytes(), 600, (2.0, 2.0))), "png"),
    ):
        digest = hashlib.sha256(data).hexdigest()
        name = f"{digest[:16]}.{suffix}"
        files[name] = data
        kept |= {f"{what}_file": name, f"{what}_sha256": digest}
    figures: dict[str, Any] = {
        "photo": photo,
        "corners": ((left, top), (right, top), (right, bottom), (left, bottom)),
        "size_mm": size,
        "kind": "bare",
        "way": "proposed",
        "percent": round(done.percent, 2),
        "low": low,
        "high": high,
        "proposed_percent": 91.4 if other.get("way") == "corrected" else None,
        "void_mm2": done.void_mm2,
        "void_box": done.void_box,
        "circle_mm": round(side, 1),
        "ridges": "straight",
        "band_percent": done.band_percent,
        "corner_percents": done.corner_percents,
        "corners_full": not done.corners,
        "edges_full": not done.edges,
        **kept,
        **other,
    }
    return MeasuredBack.model_validate(figures)


class Site:
    """A day driven by commands; keeps the events as a log would. camera: gives a photo that differs by its number."""

    def __init__(
        self,
        plan: dict[str, Any] | None = None,
        checklist: dict[str, Any] | None = None,
        camera: Callable[[int], bytes] = picture,
    ) -> None:
        self.camera = camera
        self.events: list[Event] = []
        self.files: dict[str, bytes] = {}
        self.state = State()
        self.wall = datetime(2026, 3, 4, 7, 0, tzinfo=timezone(timedelta(hours=1)))
        self.mono = 100.0
        self.boot = "a"
        self.source = TYPED
        self.do(
            cmd.OpenDay(
                plan=DayPlan.model_validate(plan or plan_of()),
                checklists=(Checklist.model_validate(checklist or CHECKLIST),),
            )
        )

    @property
    def now(self) -> Moment:
        return Moment(wall=self.wall.isoformat(), mono=self.mono, boot=self.boot)

    def wait(self, minutes: float) -> Site:
        self.wall += timedelta(minutes=minutes)
        self.mono += minutes * 60
        return self

    def do(self, *commands: cmd.Command) -> Site:
        """Each command, half a minute apart; a refused one is a mistake of the test.

        Cautions that come again after a break are answered first, as a crew does.
        """
        for command in commands:
            self.wait(0.5)
            outcome = engine.decide(self.state, command, self.now, source=self.source)
            if isinstance(outcome, engine.Refusal) and outcome.why.code == "engine-cautions-again":
                self.understood()
                outcome = engine.decide(self.state, command, self.now, source=self.source)
            assert isinstance(outcome, engine.Decision), outcome
            self._take(*outcome.events)
        return self

    def refused(self, command: cmd.Command) -> Site:
        """A command that the engine refuses, noted as the day under way notes it."""
        self.wait(0.5)
        outcome = engine.decide(self.state, command, self.now)
        assert isinstance(outcome, engine.Refusal)
        tried = attempt(self.state, command)
        body = ev.CommandRefused(area=self.state.active, attempt=tried, reason=outcome.why)
        self.add(body, command=recorded(command, refused=True))
        return self

    def add(self, body: Any, by: str | None = None, command: cmd.Command | None = None) -> Event:
        """A fact by hand."""
        seq = self.state.last_seq + 1
        speaker = self.state.speaker.name if self.state.speaker else ""
        source = CLOCK if by == "clock" else self.source
        who = speaker if by is None else by
        event = Event(seq=seq, id=f"hand-{seq}", at=self.now, by=who, source=source, body=body, command=command)
        self._take(event)
        return event

    def _take(self, *events: Event) -> None:
        for event in events:
            self.state = apply(self.state, event)
            self.events.append(event)

    # --- a crew's habits ------------------------------------------------------------------------------------------

    def speak(self, name: str) -> Site:
        return self.do(cmd.SpeakAs(name=name))

    def by(self, how: Any, **heard: Any) -> Site:
        """From here on commands come to the tablet in this way."""
        self.source = Source(how=how, **heard)
        return self

    def confirm(self, section: str, step: str) -> Site:
        return self.do(cmd.ConfirmStep(section=section, step=step))

    def lift_up(self, label: str | None = None) -> Site:
        return self.do(cmd.ConfirmLift(section="lift", step="lifted", label=label))

    def read(self, section: str, step: str, value: str, unit: str, *, keep: bool = True) -> Site:
        self.do(cmd.GiveReading(section=section, step=step, value=Fraction(value), unit=unit))
        return self.do(cmd.Keep()) if keep else self

    def measured(self, percent: float = 97.4, low: float = 96.1, high: float = 98.2, **other: Any) -> Site:
        """The back of the lift at hand was measured on its photo, or painted there."""
        area = self.state.area
        assert area is not None
        assert area.task is not None
        at = (area.plan.name, area.task.section, area.task.round)
        back = measured_back(self.state.photos[at][-1], percent, low, high, self.files, **other)
        return self.do(cmd.MeasureBack(section=at[1], round=at[2], back=back))

    def told_of_photo(self, how: Any, contact: str) -> Site:
        """What the measured back shows is told of the lift, to its verdict."""
        area = self.state.area
        assert area is not None
        assert area.task is not None
        found = back_of(self.state, area.plan.name, area.task.section, area.task.round)
        assert found is not None
        void = str(void_as_read(found.back.void_mm2, "mm2"))
        self.by(how).read("lift", "coverage", contact, "percent").read("lift", "void", void, "mm2")
        corners = "full" if found.back.corners_full else "not-full"
        return self.do(cmd.Choose(section="lift", step="corners", option=corners)).by("typed")

    def understood(self) -> Site:
        area = self.state.area
        assert area is not None
        while cautions.due(self.state, area, self.now):
            self.do(cmd.AcknowledgeCaution())
            area = self.state.area
            assert area is not None
        return self

    def start(self, area: str, temperature: str = "21") -> Site:
        """An area up to its released base: spoken for by ana, released by ruth."""
        self.speak("ana").do(cmd.StartArea(area=area)).understood()
        self.read("conditions", "air-temperature", temperature, "degC")
        return self.read("conditions", "humidity", "55", "percent") if temperature == "21" else self

    def release(self) -> Site:
        self.speak("ruth").do(cmd.ReleaseHold(section="conditions", step="release"))
        return self.speak("ana")

    def batch(self, slaked: str = "6") -> Site:
        self.do(cmd.StartRound(section="batch")).understood()
        return self.confirm("batch", "mixed").wait(5).read("batch", "slake", slaked, "min")

    def tile(self) -> Site:
        self.do(cmd.StartRound(section="tile")).understood()
        return self.confirm("tile", "combed").wait(4).confirm("tile", "set")

    def lift(self, percent: str, void: str = "300", corners: str = "full", label: str | None = None) -> Site:
        """A lift that is due, from the tile in hand to its verdict."""
        self.lift_up(label)
        self.photo()
        self.read("lift", "coverage", percent, "percent").read("lift", "void", void, "mm2")
        return self.do(cmd.Choose(section="lift", step="corners", option=corners))

    def photo(self) -> Site:
        """A photo of its own colour and its copy, kept as a tablet would keep them."""
        taken = self.camera(len(self.events))
        copy = self.keep(printable_copy(taken), ".jpg")
        as_copy = {f"copy_{name}": value for name, value in copy.items()}
        return self.do(cmd.AttachPhoto(**self.keep(taken, ".jpg"), **as_copy))

    def keep(self, data: bytes, suffix: str) -> dict[str, str]:
        """A file named by its content."""
        digest = hashlib.sha256(data).hexdigest()
        name = f"{digest[:16]}{suffix}"
        self.files[name] = data
        return {"file": name, "sha256": digest}

    def seal(self, key: SigningKey = RUTH) -> Site:
        """The seal over what was signed just now."""
        seal = make_seal(self.events, self.record().hashes, key)
        self.add(seal, by=key.name)
        return self

    def record(self, folder: Path | None = None) -> Record:
        """The record as a log would give it. folder: where the files that were kept are put."""
        texts: list[str] = []
        hashes: list[str] = []
        for event in self.events:
            texts.append(canonical_text(event, hashes[-1] if hashes else GENESIS))
            hashes.append(chain_hash(texts[-1]))
        if folder is not None:
            for name, data in self.files.items():
                (folder / name).write_bytes(data)
        return Record(self.events, texts, hashes, folder, "fieldassist 0.0.test")

    def cure(self) -> Site:
        """The corrective action after a failed lift."""
        return self.confirm("more-mortar", "scraped").confirm("more-mortar", "set-again")

    def end(self) -> Site:
        """Finish the area; the foreman says why less is set than planned, where it is."""
        self.do(cmd.FinishArea())
        area, speaker = self.state.area, self.state.speaker
        held = surface_set(area) if area is not None else None
        if held is None or held.id in self.state.answers or speaker is None:
            return self
        self.speak("ruth").do(cmd.AnswerPoint(point=held.id, ready="fewer pieces"))
        return self.speak(speaker.name).do(cmd.FinishArea())

    def finish(self) -> Site:
        return self.end().confirm("closing", "joints")

    def sign(self, *, accept_open: bool = False) -> Site:
        return self.speak("ruth").do(cmd.SignDay(accept_open=accept_open))


def eventful_day(units: str = "metric") -> Site:
    """Two areas. The first fails a lift and a clock and is finished; the second is left in the middle of a round."""
    site = Site(plan_of(units))
    site.do(cmd.NoteWeather(text="overcast, light rain"))
    site.start("shower wall").release()
    site.refused(cmd.StartRound(section="tile"))
    site.batch().tile()
    site.lift("92", void="1800", corners="not-full", label="a")
    site.cure()
    site.lift("97", label="a")
    site.do(cmd.MakeNote(text="Second layer back-buttered from here on."))
    site.tile().lift_up("b")
    site.photo()
    site.read("lift", "coverage", "59", "percent", keep=False).do(cmd.Withdraw())
    site.read("lift", "coverage", "95", "percent").read("lift", "void", "400", "mm2")
    site.do(cmd.Choose(section="lift", step="corners", option="not-full"))
    site.do(cmd.Withdraw())
    site.do(cmd.Choose(section="lift", step="corners", option="full"))
    site.do(cmd.ChangeMethod(method="large"))
    site.tile().lift("99", label="c")
    site.wait(50).do(cmd.Tick()).confirm("discard", "discarded")
    site.batch().tile().lift("96", label="d")
    site.refused(cmd.SignDay())
    site.finish()
    site.start("plunge pool", temperature="8")
    site.confirm("warm-up", "warmed").wait(20).read("conditions", "air-temperature", "12", "degC")
    site.read("conditions", "humidity", "61", "percent").release()
    site.batch("3").confirm("slake-on", "slaked-on").read("batch", "slake", "6", "min")
    site.tile().lift("90")
    return site


def words(path: Path, page: int = 0) -> str:
    """Every word of a PDF, or of one page counted from 1, as pdftotext (poppler) reads it; white space made one."""
    only = ["-f", str(page), "-l", str(page)] if page else []
    out = subprocess.run(["pdftotext", "-raw", *only, path, "-"], check=True, capture_output=True, text=True)
    assert out.stderr == ""
    return " ".join(out.stdout.split())


# A finger's lines, and one dot.
STROKES = (((100, 700), (180, 200), (300, 650), (420, 300), (520, 600)), ((600, 500),), ((640, 650), (900, 400)))


def handed_over_day() -> Site:
    """The eventful day with all that comes after: photos, a dictated note, a wrong PIN, a clock that was set, the seal,
    a sealed addendum and one that is still open."""
    site = eventful_day()
    site.do(cmd.AttachPhoto(**site.keep(picture(900), ".jpg")))
    sound = site.keep(b"fLaC, as far as this day is concerned", ".flac")
    site.do(cmd.MakeNote(text="the corner is damp", audio=sound["file"], sha256=sound["sha256"]))
    site.wall += timedelta(minutes=60)
    site.add(ev.ClockJumped(seconds=3600), by="clock")
    site.speak("ruth")
    site.add(ev.PinRefused(name="ruth", attempts_left=4))
    site.do(cmd.SignDay(accept_open=True, strokes=STROKES)).seal()
    site.do(cmd.OpenAddendum(reason="The second lift was read from the wrong side."))
    kept = [e for e in site.events if isinstance(e.body, ev.ReadingKept) and e.body.step == "coverage"]
    site.do(cmd.Correct(target=kept[1].seq, text="The contact was 96 %, not 97 %."))
    site.do(cmd.MakeNote(text="Seen again with the owner."))
    site.do(cmd.SignDay(accept_open=True, strokes=STROKES)).seal()
    return site.do(cmd.OpenAddendum(reason="The photo of the pump room came late.")).photo()


DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def large_day() -> Site:
    """A day of 200 areas and 5,000 events, sealed."""
    names = tuple("room " + " ".join(DIGITS[int(d)] for d in f"{n:03d}") for n in range(1, 201))
    site = Site(plan_of(areas=names))
    for name in names:
        site.start(name).release().batch().tile()
    while len(site.events) < 4_998:
        site.do(cmd.MakeNote(text=f"remark {len(site.events)} of a long day"))
    return site.speak("ruth").do(cmd.SignDay(accept_open=True)).seal()


@dataclass(frozen=True)
class HandedOver:
    """A day, its record, and the folder of its attachments."""

    site: Site
    record: Record
    folder: Path


def in_words(told: str) -> list[int]:
    """The numbers of "1 to 3 and 7"."""
    found = re.findall(r"(\d+)(?: to (\d+))?", told)
    return [number for first, last in found for number in range(int(first), int(last or first) + 1)]


@pytest.fixture(scope="session")
def handed_over(tmp_path_factory: pytest.TempPathFactory) -> HandedOver:
    """The day with seal, addenda, photos and sound."""
    site, folder = handed_over_day(), tmp_path_factory.mktemp("attached")
    return HandedOver(site, site.record(folder), folder)


@pytest.fixture(scope="session")
def handed_over_pdf(handed_over: HandedOver, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Its daily log."""
    return write_daily_pdf(handed_over.record, tmp_path_factory.mktemp("handed") / "day.pdf").path


@pytest.fixture
def site() -> Site:
    """A day that was only just opened."""
    return Site()


@pytest.fixture(scope="session")
def eventful() -> Site:
    """The eventful day, signed with its open points."""
    return eventful_day().sign(accept_open=True)


@pytest.fixture(scope="session")
def unsigned() -> Site:
    """The eventful day, in US units and never signed."""
    return eventful_day("us")


@pytest.fixture
def a_site() -> Callable[..., Site]:
    """Makes days."""
    return Site


@pytest.fixture
def raw_checklist() -> dict[str, Any]:
    """The checklist as a file holds it, to be changed by the test."""
    return copy.deepcopy(CHECKLIST)
