"""How well networks know sets that they have not learnt: to choose between networks, not to tell how good one is.

    python -m models.build.score SET... --networks A.pt B.pt

Of every network and kind of speech (the engine of a voice, with and without an accent, as it is and in noise): the
objective a frame, and how many of a hundred phones are wrong when in each frame the likeliest one is taken, after all
other frames and with a phone bigram, but with no word list to help. The same noise for every network.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt
import torch

from models.build.augment import Augmenter, active_rms
from models.build.features import mfcc
from models.build.language import add_language, language
from models.build.loss import Objective, PhoneBigram
from models.build.network import CONTEXT, TdnnF, restored
from models.build.speech_sets import Utterance, read_set
from models.build.synthesize import edits
from models.build.train import supervision
from models.build.units import SILENCE

NOISE_DB = 5.0
_SIDE = 4000  # samples of silence on either side
_AT_ONCE = 24


def kind(utterance: Utterance) -> str:
    """What a voice is: its engine, and whether it has an accent.

    >>> from pathlib import Path
    >>> kind(Utterance(Path("x"), 0, 1, "tile", (("T",),), "pico:en-US~slavic"))
    'pico, accent'
    """
    engine = utterance.voice.partition(":")[0]
    return f"{engine}, accent" if "~" in utterance.voice else engine


def features(utterances: Sequence[Utterance], seed: int, noise_db: float | None) -> list[npt.NDArray[np.float32]]:
    """Of each utterance, with silence around it; with noise at a level below the speech's, or without."""
    augmenter = Augmenter(seed, np.concatenate([each.audio() for each in utterances[:80]]))
    found = []
    for utterance in utterances:
        sound = np.pad(utterance.audio().astype(np.float32), _SIDE)
        if noise_db is not None:
            noise = augmenter.noise(len(sound))
            sound = sound + noise * np.float32(active_rms(sound) * 10 ** (-noise_db / 20))
        found.append(np.pad(mfcc(np.round(np.clip(sound, -32767, 32767))), ((CONTEXT, CONTEXT), (0, 0)), "edge"))
    return found


@torch.inference_mode()
def score(
    network: TdnnF, objective: Objective, utterances: Sequence[Utterance], heard: Sequence[npt.NDArray[np.float32]]
) -> tuple[float, float]:
    """(objective a frame, wrong phones in a hundred)."""
    device = next(network.parameters()).device
    order = np.argsort([len(each) for each in heard])
    total, frames, wrong, phones = 0.0, 0, 0, 0
    for group in np.array_split(order, max(1, len(order) // _AT_ONCE)):
        longest = max(len(heard[k]) for k in group)
        batch = np.stack([np.pad(heard[k], ((0, longest - len(heard[k])), (0, 0)), "edge") for k in group])
        output = network(torch.from_numpy(batch).to(device))
        value, _, _ = objective(output, [supervision(utterances[k]) for k in group])
        total += value * output.shape[0] * output.shape[1]
        frames += output.shape[0] * output.shape[1]
        paths = objective.denominator(*objective.likelihoods(output))
        for row, k in zip((paths.first + paths.later).argmax(-1).cpu().numpy(), group, strict=True):
            names = language(utterances[k].tag).units.names
            said = [names[unit] for place, unit in enumerate(row) if not place or unit != row[place - 1]]
            wanted = [phone for word in utterances[k].phones for phone in word]
            wrong += edits(wanted, [phone for phone in said if phone != SILENCE])
            phones += len(wanted)
    return total / frames, 100 * wrong / phones


def main() -> None:
    """The stage's command line."""
    parser = argparse.ArgumentParser(prog="python -m models.build.score", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("sets", type=Path, nargs="+", metavar="SET")
    parser.add_argument("--networks", type=Path, nargs="+", required=True)
    parser.add_argument("--most", type=int, default=400, help="utterances of a kind")
    add_language(parser)
    options = parser.parse_args()
    units = language(options.language).units
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    kinds: dict[str, list[Utterance]] = {}
    for stem in options.sets:
        for utterance in read_set(stem, options.language):
            kinds.setdefault(kind(utterance), []).append(utterance)
    spoken = [[[units.ids[p] for p in word] for word in u.phones] for said in kinds.values() for u in said]
    objective = Objective(PhoneBigram.of(spoken, seed=0, units=len(units.names)), torch, device=device)
    networks = {path: restored(path).to(device).eval() for path in options.networks}
    print("| | n |" + "".join(f" {path.stem} |" for path in networks))
    for name, said in sorted(kinds.items()):
        chosen = said[: options.most]
        for noise_db in (None, NOISE_DB):
            heard = features(chosen, 1, noise_db)
            cells = [score(network, objective, chosen, heard) for network in networks.values()]
            told = "".join(f" {value:.4f}, {wrong:.1f} % |" for value, wrong in cells)
            print(f"| {name}{'' if noise_db is None else f', {noise_db:g} dB'} | {len(chosen)} |{told}", flush=True)


if __name__ == "__main__":
    main()
