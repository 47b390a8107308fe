"""The pages of a mock-up trial, from its facts: the ranking, its sentences, and the list of samples."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from fieldassist.facts.model import (
    AnalysisFact,
    AreaFacts,
    CombinationFact,
    DayFacts,
    EstimateFact,
    PhotoFact,
    SampleFact,
    ToldFact,
    TrialFact,
    TrialReleaseFact,
)
from fieldassist.language import Words
from fieldassist.report.build.answering import answering
from fieldassist.report.build.backs import back_drawn, between, how_samples_measured, is_told_of, seen_told
from fieldassist.report.build.dates import short_day_told, time_told
from fieldassist.report.build.figures import measure, people, person, size, whole_percent
from fieldassist.report.build.ridges import ridge_section
from fieldassist.report.trial_model import (
    SampleLine,
    TextBlock,
    TrialPhoto,
    TrialReport,
    TrialRow,
)
from fieldassist.trade.message import Bound, Figure, Message, Several, message, term
from fieldassist.trade.quantities import Quantity, Units, convert_exact
from fieldassist.trade.voids import void_as_read

# So wide is a section across the ridges drawn [mm]: a pitch of the widest notch, and what stands beside it.
SECTION_MM = 24.3
# Of the sentences of an analysis: those that page one begins with, and those that follow from them.
_VERDICT = {
    "trial-nothing-read",
    "trial-pictures",
    "trial-highest",
    "trial-best",
    "trial-best-so-far",
    "trial-not-apart",
    "trial-no-rank",
}
_OUT = {"trial-worse"}
_TO_SETTLE = {"trial-more-needed", "trial-too-close"}
_TIES = {"trial-tie"}
_READ_ALIKE = {"trial-as-read"}
_WIDE = {"trial-wide"}
_LIKELY = ("about 3 in 4", "9 in 10 or better")


def trial_report(facts: DayFacts, area: AreaFacts, words: Words) -> TrialReport | None:
    """All that is told of the trial of an area; None where nothing is tried in it."""
    if area.trial is None:
        return None
    return _TrialBuilder(facts, area, area.trial, words).report()


class _TrialBuilder:
    """One trial."""

    def __init__(self, facts: DayFacts, area: AreaFacts, trial: TrialFact, words: Words) -> None:
        self.facts, self.area, self.trial, self.words = facts, area, trial, words
        self.units: Units = facts.units if words.units == "as given" else words.units
        self.other: Units = "us" if self.units == "metric" else "metric"
        self.by_letter = {one.letter: one for one in trial.combinations}
        self.estimates = trial.analysis.estimates if trial.analysis is not None else []
        self.photos = {photo.file: photo for photo in facts.photos if not photo.withdrawn}

    def report(self) -> TrialReport:
        """All of it."""
        words, trial, analysis = self.words, self.trial, self.trial.analysis
        verdict = self._sentences(_VERDICT) or [words(message("trial-nothing-read"))]
        ranked = analysis is not None and analysis.claim == "ranks"
        return TrialReport(
            name=_capital(self.area.name),
            title=words(message("trialpage-title")),
            date=words(short_day_told(self.facts.date)),
            about=self._about(),
            verdict=" ".join(verdict),
            best=self._best(),
            after=tuple(self._after()),
            released=tuple(self._released(one) for one in trial.releases),
            claim=analysis.claim if analysis is not None else "pictures",
            required=trial.required_percent,
            required_told=words(_percent(trial.required_percent)),
            rows=tuple(self._row(one) for one in self.estimates),
            ties=tuple(tuple(group) for group in analysis.ties) if analysis is not None and ranked else (),
            ties_told=" ".join(self._sentences(_TIES)),
            legend=" ".join(self._legend()),
            blocks=tuple(self._blocks()),
            other_units=self._in_other_units(),
            bed_unit="in" if self.units == "us" else "mm",
            bed_marks=tuple(self._bed_marks()),
            ruler=(1.5 * 25.4, "1-1/2 in") if self.units == "us" else (40.0, "40 mm"),
            samples=tuple(self._sample(one) for one in trial.samples),
            measured=tuple(how_samples_measured(trial.samples, words)),
            order=tuple(self._rounds()),
            redraw=tuple(self._redraw()),
            photos=tuple(self._shown()),
            answers=answering(self.facts, words),
        )

    def _sentences(self, codes: set[str]) -> list[str]:
        """What the analysis says under these codes."""
        told: Sequence[ToldFact] = self.trial.analysis.told if self.trial.analysis is not None else ()
        return [one.text for one in told if one.code in codes]

    # --- above the table

    def _about(self) -> str:
        piece, trial = self.area.piece, self.trial
        return self.words(
            message(
                "trialpage-about",
                site=self.facts.site,
                where=self.area.where,
                product=term("engine-product", piece.product),
                size=size((piece.length_mm, piece.width_mm), self.words),
                mortar=self.area.mortar.name,
                place=term("trialpage-place", trial.place),
                surface=term("trialpage-surface", trial.surface),
            )
        )

    def _best(self) -> str:
        """The best method so far in words."""
        letter = self.trial.analysis.best if self.trial.analysis is not None else None
        if letter is None:
            return ""
        one = self.by_letter[letter]
        return self.words(message("trialpage-best", letter=letter, notch=self._notch(one), how=self._how(one)))

    def _after(self) -> Iterator[str]:
        """What follows from the verdict: what is worse, what the next tiles would be, what would settle it."""
        yield from self._sentences(_OUT)
        analysis = self.trial.analysis
        if analysis is None:
            return
        best = next((one for one in analysis.estimates if one.letter == analysis.best), None)
        if best is not None and best.chance is not None:
            required, ten = _percent(self.trial.required_percent), term("trialpage-next-ten", best.chance)
            yield self.words(message("trialpage-next-tiles", letter=best.letter, ten=ten, required=required))
        missed = analysis.overlooked
        if missed is not None and missed.tenths:
            repeats = min(one.samples for one in analysis.estimates)
            low, high = _percent(missed.low), _percent(missed.high)
            told = message("trialpage-missed", repeats=repeats, low=low, high=high, tenths=missed.tenths)
            yield self.words(told)
        yield from self._sentences(_TO_SETTLE)

    def _released(self, one: TrialReleaseFact) -> str:
        words = self.words
        who: Figure = person(one.by)
        if one.deputy_for:
            who = message("trialpage-deputy", name=who, whom=person(one.deputy_for))
        time = time_told(one.at, self.facts.date)
        areas = Several(tuple(one.areas), "and")
        told = [words(message("trialpage-released", name=who, letter=one.letter, areas=areas, time=time))]
        if one.why:
            told.append(words(message("trialpage-released-why", why=one.why)))
        pin = next((pin for pin in self.facts.pins if pin.event == one.event), None)
        if pin is None:
            told.append(words(message("trialpage-pin-unchecked")))
        elif pin.why is not None:
            told.append(words(message("trialpage-pin-not-good", why=pin.why.text)))
        return " ".join(told)

    # --- the ranking

    def _row(self, one: EstimateFact) -> TrialRow:
        words, made = self.words, self.by_letter[one.letter]
        counted = [sample for sample in self.trial.samples if sample.letter == one.letter and sample.counts]
        shown = one.bed_mm if one.bed_mm is not None else made.bed_mm
        chance: Figure = ""
        if not one.eligible:
            chance = message("trialpage-not-eligible")
        elif one.chance is not None:
            chance = term("trial-chance", one.chance)
        section = ridge_section(made, SECTION_MM)
        return TrialRow(
            letter=one.letter,
            rank=_rank(one),
            how=_capital(words(self._how(made))),
            notch=_capital(words(self._notch(made))),
            about=tuple(self._beside(made, counted)),
            section=section,
            section_alt=words(
                message(
                    "trialpage-section-alt",
                    notch=self._notch(made),
                    angle=f"{made.angle_degrees:g}",
                    high=measure(section.base_high, "mm"),
                    bed=measure(made.bed_mm, "mm"),
                )
            ),
            bed=made.bed_mm,
            gauge=one.bed_mm,
            bed_told=self._bed(shown),
            bed_alt=words(
                message(
                    "trialpage-bed-alt",
                    bed=measure(made.bed_mm, "mm"),
                    gauge="none" if one.bed_mm is None else measure(one.bed_mm, "mm"),
                    least=Bound(measure(made.least_bed_mm, "mm"), "at least"),
                    greatest=Bound(measure(made.greatest_bed_mm, "mm"), "at most"),
                )
            ),
            least=made.least_bed_mm,
            greatest=made.greatest_bed_mm,
            mean=one.mean,
            low=one.low,
            high=one.high,
            told=self._contact(one),
            samples=tuple(_mean(sample) for sample in counted),
            samples_alt=words(
                message(
                    "trialpage-samples-alt",
                    samples=Several(tuple(_bare_percent(_mean(sample)) for sample in counted), "list"),
                    count=len(counted),
                    required=_percent(self.trial.required_percent),
                )
            ),
            chance=words(chance),
            likely=one.chance in _LIKELY,
            eligible=one.eligible,
        )

    def _contact(self, one: EstimateFact) -> str:
        if one.mean is None:
            return self.words(message("trialpage-not-read"))
        if one.low is None or one.high is None:
            return str(_whole(one.mean))
        low, high = _whole(one.low), _whole(one.high)
        return self.words(message("trialpage-mean", mean=_whole(one.mean), low=low, high=high))

    def _how(self, one: CombinationFact) -> Figure:
        """How the piece is moved and seated."""
        parts: list[Figure] = []
        if one.movement != "none":
            moved = term("trialpage-moved", one.movement)
            slid = (
                message("trialpage-moved-by", moved=moved, slide=measure(one.slide_mm, "mm")) if one.slide_mm else moved
            )
            parts.append(slid)
        seated = term("trialpage-seated", one.seating)
        if one.seconds is not None:
            seated = message("trialpage-for", seated=seated, seconds=Quantity(Fraction(repr(one.seconds)), "s"))
        return Several((*parts, seated), "list")

    def _notch(self, one: CombinationFact) -> Message:
        """What combs, and where."""
        square = one.family == "square"
        sizes: Figure = measure(one.width_mm, "mm") if square else size((one.width_mm, one.depth_mm), self.words)
        return message(
            "trialpage-notch",
            family=term("trialpage-family", one.family),
            sizes=sizes,
            tooth=measure(one.spacing_mm, "mm"),
            narrow="yes" if abs(one.spacing_mm - one.width_mm) > 0.05 * one.width_mm else "no",
            sides=one.sides,
        )

    def _beside(self, one: CombinationFact, counted: Sequence[SampleFact]) -> Iterator[str]:
        """What else is told of a method: its back and mortar where they are not alike in all, and the effort."""
        parts: list[Figure] = []
        others = self.trial.combinations
        if len({other.back for other in others}) > 1:
            parts.append(term("trialpage-back", one.back))
        if len({other.mortar for other in others}) > 1:
            parts.append(one.mortar_name)
        said = {sample.effort_label for sample in counted}
        efforts = [label.lower() for label in self.trial.efforts if label in said]
        if len(efforts) == 1:
            parts.append(message("trialpage-effort", effort=efforts[0]))
        elif efforts:
            parts.append(message("trialpage-effort-range", first=efforts[0], last=efforts[-1]))
        if parts:
            yield self.words(Several(tuple(parts), "list"))

    def _bed_marks(self) -> Iterator[tuple[float, str]]:
        """The limits of the area's own mortar for the foot of the column."""
        own = next((one for one in self.trial.combinations if not one.mortar), None)
        if own is not None:
            yield own.least_bed_mm, self._bare(Bound(measure(own.least_bed_mm, "mm"), "at least"))
            yield own.greatest_bed_mm, self._bare(Bound(measure(own.greatest_bed_mm, "mm"), "at most"))

    def _bed(self, mm: float) -> str:
        """A bed without its unit, in decimals in either system, so that beds can be compared in their column."""
        unit, decimals = ("in", 3) if self.units == "us" else ("mm", 1)
        return self._bare(Quantity(convert_exact(measure(mm, "mm").value, "mm", unit), unit, decimals))

    def _bare(self, told: Figure) -> str:
        """A length without its unit, which the column's head names."""
        return self.words(told).rsplit(" ", 1)[0]

    # --- what stands under it

    def _legend(self) -> Iterator[str]:
        words = self.words
        yield words(message("trialpage-legend-required", required=_percent(self.trial.required_percent)))
        if self.trial.analysis is not None and self.trial.analysis.claim == "ranks":
            yield words(message("trialpage-legend-ranks"))
        yield words(message("trialpage-legend-bed"))
        yield from self._ruled_out()
        yield words(message("trialpage-samples-follow"))

    def _ruled_out(self) -> Iterator[str]:
        """What is not eligible, with the reason that weighs most: those that one notch rules out alike, together."""
        run = {one.letter for one in self.estimates}
        alike: dict[tuple[str, str, str], list[str]] = {}
        for one in self.trial.combinations:
            if one.ruled_out:
                code = "shown" if one.letter in run else "not-run"
                key = (code, self.words(self._notch(one)), one.ruled_out[0].text.rstrip("."))
                alike.setdefault(key, []).append(one.letter)
        for (code, notch, reason), letters in alike.items():
            named = Several(tuple(letters), "and")
            yield self.words(message(f"trialpage-{code}", letters=named, notch=notch, reason=reason))

    def _blocks(self) -> Iterator[TextBlock]:
        gains = self.trial.analysis.gains if self.trial.analysis is not None else []
        if gains:
            asked = self.words(message("trialpage-asked"))
            told = tuple(_capital(gain.told.text) for gain in gains)
            if any(gain.found and len(gain.pairs) > 1 for gain in gains):
                told = (*told, self.words(message("trialpage-asked-mean")))
            yield TextBlock(asked, told)
        for title, sentences in (
            ("trialpage-order", self._order_and_doubt()),
            ("trialpage-readers", self._readers()),
            ("trialpage-conditions", self._conditions()),
        ):
            yield TextBlock(self.words(message(title)), (" ".join(sentences),))

    def _order_and_doubt(self) -> Iterator[str]:
        trial, analysis = self.trial, self.trial.analysis
        counting = message("trialpage-counting", count=sum(s.counts for s in trial.samples), planned=trial.planned)
        yield self.words(message("trialpage-order-drawn", counting=counting, methods=len(self.estimates)))
        if analysis is not None and analysis.claim != "pictures":
            yield self.words(message("trialpage-model", df=analysis.df))
        yield from self._sentences(_WIDE)

    def _readers(self) -> Iterator[str]:
        words, trial = self.words, self.trial
        makers = dict.fromkeys(sample.by for sample in trial.samples if sample.by)
        if makers:
            yield words(message("trialpage-made-by", names=people(makers)))
        yield words(
            message("trialpage-read-by", names=people(trial.readers), readers=len(trial.readers)),
        )
        found = trial.agreement
        if found is not None:
            yield words(
                message(
                    "trialpage-agreement",
                    alike="no" if (apart := round(abs(found.mean), 1)) else "yes",
                    mean=measure(apart, "count"),
                    most=measure(round(found.largest, 1), "count"),
                )
            )
        yield from self._sentences(_READ_ALIKE)

    def _conditions(self) -> Iterator[str]:
        words, trial = self.words, self.trial
        read: dict[str, list[str]] = {}
        for one in self.facts.conditions:
            if one.area in ("", self.area.name):
                read.setdefault(one.name or words(message("trialpage-weather")), []).append(one.text)
        for what, told in read.items():
            yield words(message("trialpage-condition", what=what, reading=" / ".join(dict.fromkeys(told))))
        counted = [sample for sample in trial.samples if sample.spoiled is None]
        if counted:
            oldest = _minutes(max(sample.age_min for sample in counted))
            batches = len({sample.batch for sample in counted})
            pot = _minutes(self.area.mortar.pot_life_min)
            yield words(message("trialpage-mortar-used", batches=batches, oldest=oldest, pot=pot))
        spoiled = [sample for sample in trial.samples if sample.spoiled is not None]
        if spoiled:
            letters = Several(tuple(dict.fromkeys(sample.letter for sample in spoiled)), "and")
            yield words(message("trialpage-spoiled", count=len(spoiled), letters=letters))

    def _in_other_units(self) -> str:
        """Notches, bed and piece in the other system, for whoever measures with the other tape."""
        run = [self.by_letter[one.letter] for one in self.estimates]
        told = self.words.in_units(self.other)
        sizes = dict.fromkeys(size((one.width_mm, one.depth_mm), told) for one in run)
        own = next((one for one in self.trial.combinations if not one.mortar), self.trial.combinations[0])
        piece = self.area.piece
        return told(
            message(
                "trialpage-other-units",
                system=self.other,
                notches=Several(tuple(sizes), "list"),
                least=Bound(measure(own.least_bed_mm, "mm"), "at least"),
                greatest=Bound(measure(own.greatest_bed_mm, "mm"), "at most"),
                piece=size((piece.length_mm, piece.width_mm), told),
            )
        )

    # --- samples

    def _sample(self, one: SampleFact) -> SampleLine:
        words = self.words
        age = _minutes(one.age_min)
        return SampleLine(
            number=one.number,
            letter=one.letter,
            place=str(one.place) if one.place else words(message("trialpage-repeat")),
            made=words(
                message(
                    "trialpage-made",
                    time=time_told(one.at, self.facts.date),
                    name=person(one.by),
                )
            ),
            batch=words(message("trialpage-batch", batch=one.batch, age=age)),
            read=tuple(
                words(
                    message(
                        "trialpage-reading",
                        name=person(eye.reader),
                        contact=_percent(eye.percent),
                        corrected="yes" if eye.corrected else "no",
                    )
                )
                for eye in one.readings
            ),
            contact=str(_whole(_mean(one))) if one.readings else "",
            bed=self._bed_read(one),
            seen="; ".join(self._seen(one)),
            spoiled=one.spoiled.text if one.spoiled is not None else "",
        )

    def _bed_read(self, one: SampleFact) -> str:
        if one.by_mass_mm is not None and not one.bed_mm:
            return self.words(message("trialpage-bed-by-mass", bed=self._bed(one.by_mass_mm)))
        return ", ".join(self._bed(mm) for mm in one.bed_mm)

    def _seen(self, one: SampleFact) -> Iterator[str]:
        """What was read of a sample beside its contact."""
        words, back = self.words, one.back
        on_photo = back is not None and is_told_of(back, one.counted)
        if one.counted is not None and not on_photo:
            yield words(message("trialpage-counted", contact=_percent(one.counted)))
        if back is not None:
            contact, interval = whole_percent(back.percent), between(back.low, back.high)
            yield words(message("trialpage-on-photo", way=back.way, contact=contact, between=interval))
            if back.ridges == "swirled":
                yield words(message("area-back-ridges", ridges=back.ridges))
        if one.void_mm2 is not None:
            yield words(message("trialpage-void", void=Quantity(Fraction(math.ceil(one.void_mm2 / 10)) / 10, "cm2")))
        if one.edges_full is not None:
            yield words(term("trialpage-edges", "full" if one.edges_full else "not full"))
        if one.effort_label:
            yield words(message("trialpage-effort", effort=one.effort_label.lower()))
        if one.air_label:
            yield one.air_label.lower()

    def _rounds(self) -> Iterator[str]:
        """The drawn order, round by round."""
        for drawn in self.trial.orders:
            each = max(1, len(set(drawn.order)))
            yield from (" ".join(drawn.order[at : at + each]) for at in range(0, len(drawn.order), each))

    def _redraw(self) -> Iterator[str]:
        yield self.words(message("trialpage-redraw"))
        for drawn in self.trial.orders:
            yield self.words(message("trialpage-drawn-from", count=len(drawn.order), head=drawn.head))

    def _shown(self) -> Iterator[TrialPhoto]:
        """One photo of each method that leads, and of the last: the sample that lies nearest to its mean."""
        analysis = self.trial.analysis
        means = {one.letter: one.mean for one in self.estimates if one.mean is not None}
        ranked = list(means)
        for letter in dict.fromkeys([*_contenders(analysis), *ranked[-1:], *ranked]):
            mean = means.get(letter)
            samples = [s for s in self.trial.samples if s.letter == letter and s.counts and self._kept(s)]
            if not samples or mean is None:
                continue
            nearest = min(samples, key=lambda s, mean=mean: abs(_mean(s) - mean))  # type: ignore[misc]
            line = self._sample(nearest)
            title = self.words(message("trialpage-photo", letter=letter, number=nearest.number))
            figures, back = (*line.read, *line.seen.split("; ")[:2]), nearest.back
            if back is None:
                yield TrialPhoto(self._kept(nearest)[0].file, title, figures, title)
                continue
            largest = Quantity(void_as_read(back.void_mm2, "cm2"), "cm2")
            alt = self.words(message("trialpage-back-alt", title=title, seen=seen_told(back, largest, self.words)))
            drawn = back_drawn(back, self.words, largest, us=self.units == "us")
            yield TrialPhoto(back.picture_file, title, figures, alt, drawn)

    def _kept(self, sample: SampleFact) -> list[PhotoFact]:
        return [self.photos[file] for file in sample.photos if file in self.photos]


def _contenders(analysis: AnalysisFact | None) -> Sequence[str]:
    return analysis.contenders if analysis is not None else ()


def _rank(one: EstimateFact) -> str:
    """A rank, as a range where others cannot be told apart: "3–6", "2"; "" where none may be told."""
    if one.first is None or one.last is None:
        return ""
    return str(one.first) if one.first == one.last else f"{one.first}–{one.last}"


def _mean(sample: SampleFact) -> float:
    """The mean of what the readers of a sample read [percent]."""
    return sum(eye.percent for eye in sample.readings) / len(sample.readings)


def _whole(percent: float) -> int:
    """Contact without decimals, rounded down as contact always is."""
    return math.floor(percent + 1e-9)


def _percent(value: float) -> Quantity:
    return measure(round(value, 1), "percent")


def _bare_percent(percent: float) -> str:
    return f"{round(percent, 1):g}"


def _minutes(value: float) -> Quantity:
    return Quantity(Fraction(math.ceil(value)), "min")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
