"""The day's plan: site, crew and areas, as the foreman writes it down before work starts."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from itertools import product
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    ValidationInfo,
    model_validator,
)

from fieldassist.checklist.faults import FROM_A_FILE, Faults, refused
from fieldassist.checklist.fields import DurationGiven, FaceArea, Length, Mass, Temperature, Volume
from fieldassist.language import READ_LANGUAGES
from fieldassist.trade.quantities import Quantity, Units, convert_exact
from fieldassist.trade.ridges import COMMON_NOTCHES, Family


def _one_line(given: object) -> object:
    return " ".join(given.split()) if isinstance(given, str) else given


_LONGEST = 400
ShortText = Annotated[str, BeforeValidator(_one_line), StringConstraints(min_length=1, max_length=_LONGEST)]
# The same, or nothing.
Remark = Annotated[str, BeforeValidator(_one_line), StringConstraints(max_length=_LONGEST)]
_MOST_LETTERS = 60
# Letters that Unicode does not take apart into a letter of a to z and a mark.
_LIKE = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"})


def clean_name(given: object) -> str:
    """A name in the one form in which it is kept: lower case, composed letters (Unicode NFC), single spaces.

    Up to six words of letters of one script, with hyphens between letters, and apostrophes. A fault otherwise: with
    letters of a second script a name could look like another one.

    >>> clean_name("Jean-Luc  O’Brien"), clean_name("JOSE" + chr(0x301))
    ("jean-luc o'brien", 'josé')
    """
    return _cleaned(str(given))


@lru_cache(maxsize=512)
def _cleaned(given: str) -> str:
    text = unicodedata.normalize("NFC", " ".join(given.replace("’", "'").split()).lower())
    words = text.split(" ")
    scripts = {unicodedata.name(c, "").split(" ")[0] for c in text if unicodedata.category(c) in ("Ll", "Lo")}
    mixed = "LATIN" in scripts and len(scripts) > 1
    if mixed or len(text) > _MOST_LETTERS or len(words) > 6 or not all(_is_word(word) for word in words):
        raise refused("name-unfit", given=given[:_MOST_LETTERS])
    return text


def _is_word(word: str) -> bool:
    kinds = [unicodedata.category(c)[0] for c in word]
    parts = word.split("-")
    return (
        all(kind in "LM" or c in "-'" for c, kind in zip(word, kinds, strict=True))
        and kinds.count("L") > 0
        and all(part.strip("'") and unicodedata.category(part.strip("'")[0])[0] == "L" for part in parts)
    )


def fold_letters(text: str) -> str:
    """Letters without their marks, so that what is typed meets what is listened for; all else as it is.

    >>> fold_letters("josé’s bath, 5½ in")
    "jose's bath, 5½ in"
    """
    bare = ((c, unicodedata.normalize("NFKD", c)) for c in text.replace("’", "'").translate(_LIKE))
    return "".join(
        "".join(p for p in parts if unicodedata.category(p)[0] != "M") if unicodedata.category(c)[0] == "L" else c
        for c, parts in bare
        if unicodedata.category(c)[0] != "M"
    )


@lru_cache(maxsize=512)
def spoken_form(text: str) -> str:
    """How a name is said to a recognizer that knows the letters a to z: "" where it has none of them.

    >>> spoken_form("jean-luc müller"), spoken_form("o'brien"), spoken_form("łukasz"), spoken_form("иван")
    ('jean luc muller', "o'brien", 'lukasz', '')
    """
    bare = fold_letters(text.lower())
    return " ".join("".join(c if c in _HEARD else " " if c in "- " else "" for c in bare).split())


_HEARD = frozenset("abcdefghijklmnopqrstuvwxyz'")

# What people, areas and methods are called.
SpokenName = Annotated[str, BeforeValidator(clean_name)]
SpokenForm = Annotated[
    str,
    StringConstraints(strip_whitespace=True, to_lower=True, pattern=r"^[A-Za-z']+( [A-Za-z']+){0,5}$", max_length=80),
]


def _language(tag: str, info: ValidationInfo) -> str:
    """A plan that is written names a language that there are words in. A day that was opened elsewhere, with words that
    are not here, stays readable."""
    known = tag in READ_LANGUAGES if info.context == FROM_A_FILE else _LANGUAGE_TAG.fullmatch(tag)
    if not known:
        raise refused("not-allowed", given=tag, allowed=READ_LANGUAGES)
    return tag


_LANGUAGE_TAG = re.compile(r"[a-z]{2,8}(-[A-Za-z0-9]{1,8}){0,4}")  # BCP 47, as far as it matters here
DocumentLanguage = Annotated[str, AfterValidator(_language)]


def _real_date(text: str) -> str:
    try:
        if date.fromisoformat(text).isoformat() == text:
            return text
    except ValueError:
        pass
    raise refused("not-date", given=text)


# What a day is for: work on a site, practice on the tablet, or a script that is played. Only work is proof of anything.
DayKind = Literal["work", "practice", "rehearsal"]


class Role(StrEnum):
    """Who may do what: a hold point names the role that releases it."""

    INSTALLER = "installer"
    FOREMAN = "foreman"
    OWNER = "owner"


class Written(BaseModel):
    """Base of everything read from a file: unknown fields are mistakes, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def _mm(length: Quantity) -> Fraction:
    return convert_exact(length.value, length.unit, "mm")


def _lengths(count: int, whole: Fraction, first: Quantity | None, last: Quantity | None) -> tuple[Fraction, ...]:
    """Whole lengths in a row, its first and its last as they are cut; of one alone the first counts."""
    lengths = [whole] * count
    if last is not None:
        lengths[-1] = _mm(last)
    if first is not None:
        lengths[0] = _mm(first)
    return tuple(lengths)


def _calls(said: str, name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(call for call in (said, spoken_form(name)) if call))


class Named(Written):
    """Something that is called by its name. `spoken`: how the name is said, where its letters do not tell."""

    name: SpokenName
    spoken: SpokenForm | None = None

    @model_validator(mode="after")
    def _can_be_said(self) -> Named:
        faults = Faults()
        if not self.said:
            faults.add("name-needs-spoken", "name", given=self.name)
        faults.tell()
        return self

    @property
    def said(self) -> str:
        """The name as it is said, in letters a to z: for what is listened for."""
        return self.spoken or spoken_form(self.name)

    @property
    def calls(self) -> tuple[str, ...]:
        """What it is called by, spoken or typed: as it is said, and as it is written."""
        return _calls(self.said, self.name)


class Person(Named):
    """One of the crew; `name` is how the person is called when the tablet is told who speaks.

    deputy_for: the foreman in whose place this person may release hold points, marked as deputy; None for nobody's.
    """

    role: Role
    deputy_for: SpokenName | None = None


class Piece(Written):
    """The tile or panel of an area."""

    product: Literal["tile", "natural stone", "gauged panel"]
    length: Length
    width: Length
    thickness: Length
    warpage: Length | None = None
    weighed: Mass | None = None
    rectified: bool = True


class Mortar(Written):
    """What the mortar's data sheet says; only the name and kind are needed, the rest falls back on standards."""

    name: ShortText
    kind: Literal["thin-set", "large-and-heavy-tile"]
    marking: Remark = ""
    pot_life: DurationGiven
    open_time: DurationGiven
    slake: DurationGiven | None = None
    least_bed: Length | None = None
    greatest_bed: Length | None = None
    coldest: Temperature | None = None
    hottest: Temperature | None = None
    bag: Mass | None = None
    bag_yield: Volume | None = None
    water_per_bag: Volume | None = None


# The parts of a method besides its notch.
CombedSides = Literal["one", "both"]
BackCoat = Literal["keyed", "bare"]
Stroke = Literal["none", "one way", "there and back"]
Seating = Literal["by hand", "beaten", "vibrated"]


class Trowel(Written):
    """A notch and how its trowel is held: sizes, and the angle between trowel and base [degrees]."""

    family: Family
    width: Length
    depth: Length
    spacing: Length
    angle: Annotated[float, Field(gt=0, le=90)] = 45.0


class Method(Trowel):
    """How mortar is combed and a piece is set: one thing, released for an area and changed as one.

    Trowel; sides: mortar combed on the base only, or on base and back; back: whether a thin
    coat is keyed into the back with the flat side; movement: the stroke across the ridges; seating.
    """

    sides: CombedSides = "one"
    back: BackCoat = "keyed"
    movement: Stroke = "there and back"
    seating: Seating = "beaten"


Percent = Annotated[float, Field(ge=0, le=100)]
# The combinations of a trial are called by letters, in the order in which they are written down.
LETTERS = "ABCDEFGHJKLMNPQRSTUV"
Letter = Annotated[str, StringConstraints(pattern=f"^[{LETTERS}]$")]


class TrialShown(Written):
    """What a mock-up trial has shown of the method that was released from it, as that trial's record holds it.

    date, site, area: of the trial; head: of its record, at the release; letter: the combination; samples: how many of
    it count; mean, low, high: contact and its interval [percent]; chance: that the next tile passes, in steps;
    centre, variance: mean and its variance on the scale of contact (`trade.contact`); spread: of one sample there;
    between: variance between batches there; batches, readers: how many, and who; bed_mm: mean after collapse [mm];
    by: the foreman who released it; why: his reason where it was not the best.
    """

    date: Annotated[str, AfterValidator(_real_date)]
    site: ShortText
    area: ShortText
    head: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
    letter: Letter
    samples: Annotated[int, Field(ge=1)]
    mean: Percent
    low: Percent | None = None
    high: Percent | None = None
    chance: ShortText | None = None
    centre: float
    variance: Annotated[float, Field(ge=0)]
    spread: Annotated[float, Field(ge=0)]
    between: Annotated[float, Field(ge=0)] = 0.0
    batches: Annotated[int, Field(ge=1)] = 1
    readers: tuple[SpokenName, ...] = ()
    bed_mm: float
    by: SpokenName
    why: Remark = ""


class MockUp(Written):
    """A trial of a method on a sheet or a piece of its own, judged as a lifted tile is.

    percent: contact [percent of the back], of several samples the worst; largest_void: area of the largest void;
    corners: of corners and edges; by: who read it; method: its name in the plan, the area's own where none is written;
    trial: the mock-up trial that it comes from, None for a sheet of its own.
    """

    date: Annotated[str, AfterValidator(_real_date)]
    percent: Percent
    largest_void: FaceArea | None = None
    corners: Literal["full", "not full"]
    by: ShortText
    method: SpokenName | None = None
    trial: TrialShown | None = None


class Combination(Method):
    """One way that a trial tries: a method, and what else is held the same in all its samples.

    notch: what its notch is called; slide: how far the piece is moved across the ridges; seconds: how long it is
    vibrated; mortar: the name of one of the trial's other mortars, "" for the area's own; shown: it is run although the
    reckoning rules it out, to be looked at; it is not eligible then.
    """

    notch: Remark = ""
    slide: Length | None = None
    seconds: DurationGiven | None = None
    mortar: Remark = ""
    shown: bool = False

    @property
    def method(self) -> Method:
        """The method alone."""
        return Method(**{name: getattr(self, name) for name in Method.model_fields})

    @model_validator(mode="after")
    def _parts_agree(self) -> Combination:
        faults = Faults()
        if self.slide is not None and self.movement == "none":
            faults.add("trial-slide", "slide")
        if self.seconds is not None and self.seating != "vibrated":
            faults.add("trial-seconds", "seconds")
        faults.tell()
        return self


# When a step of a sample is asked: only where its combination, or the trial, is such.
OnlyOf = Literal[
    "keyed",
    "both sides",
    "moved",
    "beaten",
    "vibrated",
    "by hand",
    "two readers",
    "counted",
    "bed by gauge",
    "bed by mass",
]


# The parts of a combination that a question asked beforehand may be about.
TriedPart = Literal["sides", "back", "movement", "seating", "mortar"]


class PlannedQuestion(Written):
    """What is to be found out, named before anybody mixes: it takes fewer samples than comparing all with all.

    Of a part: what `other` adds to `one`, over all pairs of combinations that differ in this part alone. Or of two
    combinations, by their letters.
    """

    part: TriedPart | None = None
    one: Remark | None = None
    other: Remark | None = None
    letters: tuple[Letter, Letter] | None = None

    @model_validator(mode="after")
    def _asks_one_thing(self) -> PlannedQuestion:
        faults = Faults()
        of_part = (self.part, self.one, self.other)
        if (self.letters is None) == (None in of_part) or (self.letters is not None and any(of_part)):
            faults.add("trial-question")
        faults.tell()
        return self


MOST_COMBINATIONS = len(LETTERS)


def _every_one(given: Any) -> Sequence[Any]:
    """What is to be tried, each with each: fields of a combination, each one value or a list of them."""
    if not isinstance(given, dict):
        return [given]
    listed = {name: value if isinstance(value, list | tuple) else [value] for name, value in given.items()}
    return [dict(zip(listed, values, strict=True)) for values in product(*listed.values())]


class TrialPlan(Written):
    """A mock-up trial: combinations tried side by side, each so many times, in an order that is drawn.

    try: what is tried, each with each: a list of {field: value or list of values}, instead of `combinations`; notch
    names one of `notches` or a common one (`trade.ridges.COMMON_NOTCHES`). seen: how a sample is looked at; sheet: the
    face of one sample, the area's piece where none is written; place, surface: of the setting that it is for, which say
    what is required; readers: who reads, apart from one another; a_batch: how many samples one batch is enough for;
    bed: how it is measured, by gauge at three points or by the mortar's mass; counted: each sample is counted on a grid
    besides; mortars: others than the area's own; questions: named beforehand.
    """

    combinations: Annotated[tuple[Combination, ...], Field(min_length=1, max_length=MOST_COMBINATIONS)]
    repeats: Annotated[int, Field(ge=1, le=20)] = 3
    seen: Literal["lifted", "through the sheet"] = "lifted"
    sheet: FaceArea | None = None
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]
    readers: Annotated[tuple[SpokenName, ...], Field(min_length=1, max_length=2)]
    a_batch: Annotated[int, Field(ge=1, le=60)] = 8
    bed: Literal["gauge", "mass", "none"] = "gauge"
    counted: bool = False
    notches: dict[ShortText, Trowel] = Field(default_factory=dict)
    mortars: tuple[Mortar, ...] = ()
    questions: tuple[PlannedQuestion, ...] = ()

    @model_validator(mode="before")
    @classmethod
    def _written_out(cls, given: Any) -> Any:
        if not isinstance(given, dict):
            return given
        rest = {name: value for name, value in given.items() if name != "try"}
        if "try" in given and "combinations" in given:
            raise refused("trial-try-and-combinations")
        if "try" in given:
            tried = given["try"] if isinstance(given["try"], list | tuple) else [given["try"]]
            rest["combinations"] = [one for part in tried for one in _every_one(part)]
        listed = rest.get("combinations")
        if isinstance(listed, list | tuple):
            rest["combinations"] = [cls._with_notch(one, rest.get("notches") or {}) for one in listed]
        return rest

    @staticmethod
    def _with_notch(one: object, own: Mapping[str, object]) -> object:
        """A combination with the sizes of the notch that it names."""
        if not isinstance(one, dict) or "family" in one or "notch" not in one:
            return one
        name = str(one["notch"])
        if name in own:
            named = own[name]
            sizes = named.model_dump() if isinstance(named, Trowel) else named
            return {**sizes, **one} if isinstance(sizes, dict) else one
        if name not in COMMON_NOTCHES:
            raise refused("trial-notch", given=name, allowed=[*own, *COMMON_NOTCHES])
        common = COMMON_NOTCHES[name]
        lengths = {"width": common.width_mm, "depth": common.depth_mm, "spacing": common.spacing_mm}
        return {"family": common.family} | {key: _in_sixty_fourths(mm) for key, mm in lengths.items()} | one

    @model_validator(mode="after")
    def _hangs_together(self) -> TrialPlan:
        faults = Faults()
        faults.twice(list(self.readers), "readers")
        faults.twice([mortar.name for mortar in self.mortars], "mortars")
        for index, one in enumerate(self.combinations):
            same = [other.model_copy(update={"notch": one.notch, "shown": one.shown}) for other in self.combinations]
            if one in same[:index]:
                faults.add("trial-twice", "combinations", index, given=LETTERS[index])
            if one.mortar:
                faults.names(one.mortar, [mortar.name for mortar in self.mortars], "combinations", index, "mortar")
        for index, question in enumerate(self.questions):
            for letter in question.letters or ():
                faults.names(letter, list(self.letters), "questions", index, "letters")
            if question.part is not None and not self.pairs(question):
                faults.add("trial-question-without-pair", "questions", index)
        faults.tell()
        return self

    @property
    def letters(self) -> tuple[str, ...]:
        """What the combinations are called."""
        return tuple(LETTERS[: len(self.combinations)])

    @property
    def by_letter(self) -> Mapping[str, Combination]:
        """The combinations by their letters."""
        return dict(zip(self.letters, self.combinations, strict=True))

    def asks(self, only: OnlyOf | None, letter: str) -> bool:
        """Whether a step that is asked only of such samples is asked of this combination."""
        one = self.by_letter[letter]
        holds: dict[OnlyOf | None, bool] = {
            None: True,
            "keyed": one.back == "keyed",
            "both sides": one.sides == "both",
            "moved": one.movement != "none",
            "two readers": len(self.readers) > 1,
            "counted": self.counted,
            "bed by gauge": self.bed == "gauge",
            "bed by mass": self.bed == "mass",
        }
        return holds.get(only, one.seating == only)

    def mortar_place(self, letter: str) -> int:
        """Which mortar a combination takes: 0 the area's own, then the others in order. Each has its own bucket."""
        names = ("", *(mortar.name for mortar in self.mortars))
        return names.index(self.by_letter[letter].mortar)

    def pairs(self, question: PlannedQuestion) -> tuple[tuple[str, str], ...]:
        """The pairs of combinations that a question compares, by their letters: the one, and what it is asked to add.

        Of a part: those that differ in it alone. How far and how long belongs to movement and seating.
        """
        if question.letters is not None:
            return (question.letters,)
        belongs = {"movement": "slide", "seating": "seconds"}.get(str(question.part))
        aside = {"shown": False, "notch": ""} | ({belongs: None} if belongs else {})
        bare = {letter: one.model_copy(update=aside) for letter, one in self.by_letter.items()}
        return tuple(
            (one, other)
            for one, first in bare.items()
            for other, second in bare.items()
            if getattr(first, str(question.part)) == question.one
            and first.model_copy(update={str(question.part): question.other}) == second
        )


def _in_sixty_fourths(mm: float) -> str:
    """A notch's size as it is called: in whole sixty-fourths of an inch where it is such, else in millimetres."""
    parts = Fraction(str(mm)) / Fraction("25.4") * 64
    return f"{Fraction(round(parts), 64)} in" if abs(parts - round(parts)) < Fraction(1, 1000) else f"{mm:g} mm"


# Stands where a trial's own mistakes are told instead.
_ANY_METHOD = Method(
    family="square",
    width=Quantity(Fraction(6), "mm"),
    depth=Quantity(Fraction(6), "mm"),
    spacing=Quantity(Fraction(6), "mm"),
)


def _own_mortar_bare(trial: Any, mortar: Any) -> Any:
    """A trial as it is written, in which the area's own mortar has no name."""
    name = mortar.get("name") if isinstance(mortar, dict) else getattr(mortar, "name", None)

    def bare(value: Any) -> Any:
        if isinstance(value, list | tuple):
            return [bare(one) for one in value]
        if isinstance(value, dict):
            named = {"mortar"} | ({"one", "other"} if value.get("part") == "mortar" else set())
            return {key: "" if key in named and one == name else bare(one) for key, one in value.items()}
        return value

    return bare(trial) if isinstance(trial, dict) and name else trial


# How the long edge of a piece lies on the surface.
LongEdge = Literal["level", "upright"]


class Grid(Written):
    """Places of pieces in rows and columns, numbered from 1 in the order in which they are set: row by row, from below.

    long_edge: how it lies, None where nobody wrote it: upright for panels, else level (common practice, no published
    source); first_column, last_column: how wide the pieces there are, first_row, last_row: how high, where they are
    cut. So the plan says where the first whole piece starts.
    """

    rows: Annotated[int, Field(ge=1, le=500)]
    columns: Annotated[int, Field(ge=1, le=500)]
    long_edge: LongEdge | None = None
    first_column: Length | None = None
    last_column: Length | None = None
    first_row: Length | None = None
    last_row: Length | None = None


class Niche(Written):
    """Where a niche or another opening lies: from the left edge and from below, and its size."""

    name: ShortText
    left: Length
    bottom: Length
    width: Length
    height: Length


class OwnPiece(Written):
    """A piece of its own size: a cut at a place of the grid, or one with a name, such as a niche's.

    size: its own face; none lies at a place of the grid whose size is 0.
    """

    row: Annotated[int, Field(ge=1)] | None = None
    column: Annotated[int, Field(ge=1)] | None = None
    name: SpokenName | None = None
    size: FaceArea

    @model_validator(mode="after")
    def _placed(self) -> OwnPiece:
        faults = Faults()
        if (self.row is None) != (self.column is None) or (self.row is None) == (self.name is None):
            faults.add("piece-placed")
        faults.tell()
        return self


class AreaPlan(Named):
    """One area of the day: where it is, what is set there and with what.

    id: what it is known by on other days and tablets; its name where none is given.
    """

    checklist: ShortText
    where: ShortText
    size: FaceArea
    piece: Piece
    mortar: Mortar
    method: Method
    joint: Length | None = None
    id: ShortText | None = None
    grid: Grid | None = None
    pieces: tuple[OwnPiece, ...] = ()
    niches: tuple[Niche, ...] = ()
    mock_up: MockUp | None = None
    trial: TrialPlan | None = None

    @model_validator(mode="before")
    @classmethod
    def _of_a_trial(cls, given: object) -> object:
        """Of an area in which methods are tried nobody writes which one is set, nor how large it is."""
        if not isinstance(given, dict) or given.get("trial") is None:
            return given
        rest = dict(given) | {"trial": _own_mortar_bare(given["trial"], given.get("mortar"))}
        try:
            tried, piece = TrialPlan.model_validate(rest["trial"]), Piece.model_validate(given.get("piece"))
        except ValidationError:
            # What is wrong there is told of its own fields.
            return {"method": _ANY_METHOD, "size": "1 m2"} | rest
        face = tried.sheet or Quantity(_mm(piece.length) * _mm(piece.width) / 1_000_000, "m2")
        rest.setdefault("method", tried.combinations[0].method)
        rest.setdefault("size", Quantity(face.value * len(tried.combinations) * tried.repeats, face.unit))
        return rest

    @property
    def key(self) -> str:
        """What the area is known by on other days and tablets."""
        return self.id or self.name

    @property
    def whole_mm(self) -> tuple[Fraction, Fraction]:
        """How wide and how high a whole piece stands on the surface [mm]."""
        long, short = sorted((_mm(self.piece.length), _mm(self.piece.width)), reverse=True)
        lies = self.grid.long_edge if self.grid is not None else None
        if lies is None:
            lies = "upright" if self.piece.product == "gauged panel" else "level"
        return (long, short) if lies == "level" else (short, long)

    @property
    def joint_mm(self) -> Fraction:
        """The joint between two pieces [mm]; 0 where the plan names none."""
        return _mm(self.joint) if self.joint is not None else Fraction(0)

    @property
    def columns_mm(self) -> tuple[Fraction, ...]:
        """How wide the pieces of each column of the grid are [mm], none without a grid."""
        grid = self.grid
        return _lengths(grid.columns, self.whole_mm[0], grid.first_column, grid.last_column) if grid else ()

    @property
    def rows_mm(self) -> tuple[Fraction, ...]:
        """How high the pieces of each row of the grid are [mm], the lowest first; none without a grid."""
        grid = self.grid
        return _lengths(grid.rows, self.whole_mm[1], grid.first_row, grid.last_row) if grid else ()

    @property
    def outer_mm(self) -> tuple[Fraction, Fraction]:
        """How wide and how high the grid is over all [mm], its joints counted; 0 without a grid."""
        across, up = self.columns_mm, self.rows_mm
        joints = (max(0, len(across) - 1), max(0, len(up) - 1))
        return sum(across, joints[0] * self.joint_mm), sum(up, joints[1] * self.joint_mm)

    @model_validator(mode="after")
    def _cuts_and_niches_fit(self) -> AreaPlan:
        faults = Faults()
        grid, (across, up) = self.grid, self.whole_mm
        if grid is not None:
            for field, whole in (
                ("first_column", across),
                ("last_column", across),
                ("first_row", up),
                ("last_row", up),
            ):
                cut: Quantity | None = getattr(grid, field)
                if cut is not None and not 0 < _mm(cut) <= whole:
                    faults.add("grid-cut", "grid", field)
        faults.twice([niche.name for niche in self.niches], "niches")
        for index, niche in enumerate(self.niches):
            far = (_mm(niche.left) + _mm(niche.width), _mm(niche.bottom) + _mm(niche.height))
            sides = (niche.left, niche.bottom, niche.width, niche.height)
            off = min(map(_mm, sides)) < 0 or min(map(_mm, sides[2:])) == 0
            if off or (grid is not None and (far[0] > self.outer_mm[0] or far[1] > self.outer_mm[1])):
                faults.add("niche-off-wall", "niches", index)
        faults.tell()
        return self

    @model_validator(mode="after")
    def _pieces_fit(self) -> AreaPlan:
        faults = Faults()
        taken: set[object] = set()
        for index, piece in enumerate(self.pieces):
            place = piece.name or (piece.row, piece.column)
            if place in taken:
                faults.add("piece-twice", "pieces", index)
            taken.add(place)
            if piece.row is None or piece.column is None:
                continue
            if self.grid is None or piece.row > self.grid.rows or piece.column > self.grid.columns:
                faults.add("piece-off-grid", "pieces", index)
        faults.tell()
        return self


class DayPlan(Written):
    """Site, date, crew and areas. `documents`: the language of what is printed, whatever the crew speaks;
    `methods_spoken`: how a method's name is said, where its letters do not tell."""

    site: ShortText
    address: Remark = ""
    owner: Remark = ""
    date: Annotated[str, AfterValidator(_real_date)]
    units: Units = "metric"
    documents: DocumentLanguage = "en"
    crew: Annotated[tuple[Person, ...], Field(min_length=1)]
    areas: Annotated[tuple[AreaPlan, ...], Field(min_length=1)]
    methods: dict[SpokenName, Method] = Field(default_factory=dict)
    methods_spoken: dict[SpokenName, SpokenForm] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _names_are_told_apart(self) -> DayPlan:
        faults = Faults()
        self._told_apart(faults, "crew", [((index, "name"), p.calls) for index, p in enumerate(self.crew)])
        self._told_apart(faults, "areas", [((index, "name"), a.calls) for index, a in enumerate(self.areas)])
        keys = [area.key for area in self.areas]
        for index, key in enumerate(keys):
            if key in keys[:index]:
                faults.add("area-id-twice", "areas", index, "id", given=key)
        self._told_apart(faults, "methods", [((name,), self.method_calls(name)) for name in self.methods])
        for name in self.methods:
            if not self.method_calls(name):
                faults.add("method-needs-spoken", "methods", name, given=name)
        for name in self.methods_spoken:
            faults.names(name, list(self.methods), "methods_spoken", name)
        for index, area in enumerate(self.areas):
            for number, reader in enumerate(area.trial.readers if area.trial is not None else ()):
                faults.names(reader, [person.name for person in self.crew], "areas", index, "trial", "readers", number)
            if area.mock_up is not None:
                faults.names(area.mock_up.method, list(self.methods), "areas", index, "mock_up", "method")
        if not any(p.role is Role.FOREMAN for p in self.crew):
            faults.add("crew-without-foreman", "crew")
        self._deputies_stand_for_foremen(faults)
        faults.tell()
        return self

    def _deputies_stand_for_foremen(self, faults: Faults) -> None:
        foremen = [p.name for p in self.crew if p.role is Role.FOREMAN]
        for index, person in enumerate(self.crew):
            if person.deputy_for is None:
                continue
            if person.role is Role.FOREMAN:
                faults.add("foreman-as-deputy", "crew", index, "deputy_for", given=person.name)
            elif person.deputy_for not in foremen:
                faults.add("deputy-for-no-foreman", "crew", index, "deputy_for", given=person.deputy_for)

    @staticmethod
    def _told_apart(
        faults: Faults, place: str, called: Sequence[tuple[tuple[str | int, ...], tuple[str, ...]]]
    ) -> None:
        taken: set[str] = set()
        for at, calls in called:
            if both := taken.intersection(calls):
                faults.add(f"{place}-share-name", place, *at, given=min(both))
            taken.update(calls)

    def method_calls(self, name: str) -> tuple[str, ...]:
        """What one of the plan's methods is called by: as it is said, and as it is written."""
        return _calls(self.methods_spoken.get(name, ""), name)

    def person(self, name: str) -> Person | None:
        """The crew member called `name`, or None."""
        return next((p for p in self.crew if p.name == name), None)

    def releasing(self, role: Role) -> tuple[Person, ...]:
        """Who of the crew may release a hold point of `role`: those who have it first, then their deputies."""
        own = tuple(p for p in self.crew if p.role is role)
        names = {p.name for p in own}
        return own + tuple(p for p in self.crew if p.role is not role and p.deputy_for in names)

    def with_area(self, planned: AreaPlan) -> DayPlan:
        """The plan with this area: in place of the one of its name, or behind the others. pydantic's ValidationError
        where it cannot stand beside them."""
        at = [each.name for each in self.areas]
        areas = [planned if name == planned.name else each for name, each in zip(at, self.areas, strict=True)]
        return self._with(areas=tuple(areas) if planned.name in at else (*areas, planned))

    def with_person(self, person: Person) -> DayPlan:
        """The plan with one more in the crew. pydantic's ValidationError where the name is taken."""
        return self._with(crew=(*self.crew, person))

    def _with(self, **changes: object) -> DayPlan:
        return DayPlan.model_validate({name: getattr(self, name) for name in DayPlan.model_fields} | changes)

    def area(self, name: str) -> AreaPlan | None:
        """The planned area called `name`, or None."""
        return next((a for a in self.areas if a.name == name), None)
