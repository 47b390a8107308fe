"""What is done by hand in a rehearsal: phrases that are typed, notes, photos, and what is released by PIN.

| the line says | what is done |
|---|---|
| base released by pin | the hold point is released by the PIN of whoever the line names |
| confirmed by pin | what was called out in that name is confirmed |
| strike base released by pin | the same, but for this one, which is struck out |
| release C for shower wall, hall floor by pin | the trial's combination is released for areas by the PIN of whoever the line names |
| release B for shower wall because REASON by pin | the same of another one than the best |
| make 2 more of A, C | so many more samples of these combinations |
| note WORDS | a note is written |
| photo, photo FILE | a photo is attached to what is at hand |
| measure as skim-coated corners 12%,8% ... painted FILE | a back is measured on its photo (`rehearsal.measuring`) |
| anything else | a phrase, typed; or taken as if it had been spoken and well heard, so that it is read back and asked about as at the wall |
"""  # noqa: E501 (a table's line cannot be broken)

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Literal

from PIL import Image

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import TYPED, Source
from fieldassist.checklist.plan import Person
from fieldassist.day.ear import Catch, Fate, Reply, act, interpret_text, spoken_answer
from fieldassist.day.photo import attach
from fieldassist.day.session import Answer, Day
from fieldassist.record.keys import Keyring, SigningKey
from fieldassist.rehearsal.expect import CameTo
from fieldassist.report.signed import sign_pages
from fieldassist.trade.message import message

BY_PIN = " by pin"
# A picture that shows nothing, beside the keys' folder.
PLAIN_PHOTO = "photo.png"
_STRIKE, _MEASURE = "strike ", "measure as "
_RELEASE = re.compile(r"release ([a-z]) for (.+?)(?: because (.+))?$", re.IGNORECASE)
_MORE = re.compile(r"make (\d{1,2}) more of ([a-z](?:, ?[a-z])*)$", re.IGNORECASE)


class ByHand:
    """The hands at one day's tablet.

    people: the folder of the rehearsal's keys, which seal nothing but rehearsals; pin: everybody's; photos: where the
    photos are that are named; heard: called with what is said aloud before something is written; how: what a phrase
    counts as.
    """

    def __init__(
        self,
        day: Day,
        people: Path,
        pin: str,
        photos: Path,
        heard: Callable[[str], None] = lambda _words: None,
        *,
        how: Literal["typed", "spoken"] = "typed",
    ) -> None:
        self._how: Literal["typed", "spoken"] = how
        self._day, self._people, self._pin, self._photos, self._heard = day, people, pin, photos, heard
        self._keys: Keyring | None = None
        # The next phrase is the words of this: a note, or the answer to an open point.
        self._dictating: cmd.Ask | None = None

    def come_to(self, name: str, words: str) -> tuple[CameTo, Reply]:
        """What became of the words, and what is said back. name: whose PIN is given, where one is."""
        day = self._day
        low = words.lower()
        if self._dictating is not None:
            asked, self._dictating = self._dictating, None
            dictated = cmd.MakeNote(text=words) if asked.about == "note" else _said_why(asked, words)
            return self._answered(words, day.do(dictated, self._source(words)))
        if low.startswith("note "):
            # By voice two: that a note is to be made, and its words.
            self._heard("note")
            words = words[5:].strip()
            return self._answered(words, day.do(cmd.MakeNote(text=words), self._source(words)))
        if low == "photo" or low.startswith("photo "):
            return self._answered(words, attach(day, self._photo(words[6:].strip())))
        if low.startswith(_MEASURE):
            # What it needs comes with the tablet's libraries: nothing else in a rehearsal waits for them.
            from fieldassist.rehearsal.measuring import measure

            return self._answered(words, measure(day, words, self._photos))
        if low.endswith(BY_PIN):
            release = _RELEASE.match(words[: -len(BY_PIN)])
            return self._release(name, words, release) if release is not None else self._by_pin(name, words)
        if (more := _MORE.match(words)) is not None:
            letters = tuple(_listed(more[2].upper()))
            return self._answered(words, day.do(cmd.MoreSamples(letters=letters, repeats=int(more[1])), TYPED))
        source = self._source(words)
        caught = replace(interpret_text(words, day.prompt.offers, day.trial(source)), source=source)
        command = caught.command
        if isinstance(command, cmd.SignDay) and not day.state.closed:
            signed = self.sign(accept_open=command.accept_open, source=caught.source)
            return self._answered(words, signed)
        reply = act(day, caught)
        if isinstance(command, cmd.Ask) and command.about in ("note", "answer") and reply.fate is Fate.TAKEN:
            self._dictating = command
        return _came_to(reply), reply

    def sign(self, *, accept_open: bool, source: Source = TYPED) -> Answer:
        """Sign the day, and its pages, with the PIN."""
        day = self._day

        def pages(key: SigningKey) -> None:
            sign_pages(day.log, key, day.clock.now())

        return day.sign(self.keys, self._pin, accept_open=accept_open, source=source, pages=pages)

    def _release(self, name: str, words: str, found: re.Match[str]) -> tuple[CameTo, Reply]:
        """A combination of the trial at hand is released for areas."""
        letter, areas, why = found[1].upper(), _listed(found[2]), found[3] or ""
        return self._answered(
            words, self._day.release_method(self.keys, self._pin, name, letter, areas, why, source=self._source(words))
        )

    def _by_pin(self, name: str, words: str) -> tuple[CameTo, Reply]:
        """A hold point is released, or what was called out in a name is confirmed: all of it but what is struck out."""
        day, keys, called_out = self._day, self.keys, words[: -len(BY_PIN)]
        if called_out.lower() == "confirmed":
            return self._answered(words, day.confirm(keys, self._pin, name, source=self._source(called_out)))
        strikes = called_out.lower().startswith(_STRIKE)
        called_words = called_out[len(_STRIKE) :] if strikes else called_out
        caught = replace(interpret_text(called_words, day.prompt.offers), source=self._source(called_out))
        command = caught.command
        if not isinstance(command, cmd.ReleaseHold):
            why = message("rehearse-no-pin-for-that")
            if command is None:
                return "not understood", Reply(Fate.ASKED, Catch(words, why=caught.why), why)
            return "refused", Reply(Fate.REFUSED, Catch(words), why)
        if not strikes:
            return self._answered(words, day.release(keys, self._pin, name, command, caught.source))
        called = [
            release.seq
            for area in day.state.areas.values()
            for release in area.progress.releases.values()
            if release.waits and (release.section, release.step) == (command.section, command.step)
        ]
        return self._answered(words, day.confirm(keys, self._pin, name, called[-1:], caught.source))

    def _source(self, words: str) -> Source:
        return Source(how=self._how, words=words[:500])

    def _answered(self, words: str, answer: Answer) -> tuple[CameTo, Reply]:
        fate = Fate.TAKEN if answer.taken else Fate.REFUSED
        reply = Reply(fate, Catch(words), spoken_answer(self._day, answer), answer)
        return _came_to(reply), reply

    @property
    def keys(self) -> Keyring:
        """The rehearsal's keys: everybody's, made when one is first needed, with one PIN that everybody knows."""
        if self._keys is None:
            self._keys = Keyring(self._people, practice=True)
            known = {holder.name for holder in self._keys.people()}
            crew: Sequence[Person] = self._day.state.plan.crew if self._day.state.plan else ()
            for person in crew:
                if person.name not in known:
                    self._keys.set_pin(person.name, person.role, self._pin, now=self._day.clock.now())
        return self._keys

    def _photo(self, name: str) -> Path:
        """The photo that is named; a picture that shows nothing where none is."""
        if name:
            return self._photos / name
        path = self._people.parent / PLAIN_PHOTO
        if not path.exists():
            made = BytesIO()
            Image.new("RGB", (640, 480), (150, 150, 150)).save(made, "PNG")
            path.write_bytes(made.getvalue())
        return path


def _came_to(reply: Reply) -> CameTo:
    if reply.fate in (Fate.TAKEN, Fate.DICTATED):
        return "taken"
    if reply.fate is Fate.REFUSED:
        return "refused"
    return "asked" if reply.catch.command is not None or reply.catch.choices else "not understood"


def _said_why(asked: cmd.Ask, words: str) -> cmd.AnswerPoint:
    return cmd.AnswerPoint(value=asked.value, words=words)


def _listed(text: str) -> list[str]:
    return [part.strip() for part in text.split(",")]
