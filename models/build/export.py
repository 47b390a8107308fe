"""A trained network as a model folder: `python -m models.build.export NETWORK.pt WORDS FOLDER`.

Writes FOLDER/am/final.mdl, FOLDER/conf and, from the words (one a line), FOLDER/graph.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from models.build.graph import build
from models.build.language import DEFAULT, add_language
from models.build.network import export, restored

# As features.py computes them. No dither: the same recording gives the same words each time.
MFCC = """\
--use-energy=false
--num-mel-bins=40
--num-ceps=40
--low-freq=20
--high-freq=7600
--allow-upsample=true
--allow-downsample=true
--dither=0
"""
# The beams are those that hear with a processor a tenth used; the pauses are those of people who read figures out.
DECODING = """\
--min-active=200
--max-active=3000
--beam=13.0
--lattice-beam=4.0
--acoustic-scale=1.0
--frame-subsampling-factor=3
--endpoint.silence-phones=1
--endpoint.rule2.min-trailing-silence=0.5
--endpoint.rule3.min-trailing-silence=1.0
--endpoint.rule4.min-trailing-silence=2.0
"""


def write_model(trained: Path, words: Path, folder: Path, tag: str = DEFAULT) -> None:
    """Make the folder that vosk loads, from a network that train.py wrote and a list of words."""
    for part in ("am", "conf", "graph"):
        (folder / part).mkdir(parents=True, exist_ok=True)
    export(restored(trained).eval(), folder / "am" / "final.mdl", tag)
    (folder / "conf" / "mfcc.conf").write_text(MFCC, encoding="utf-8")
    (folder / "conf" / "model.conf").write_text(DECODING, encoding="utf-8")
    print(build(words.read_text(encoding="utf-8").split(), folder / "graph", tag))


def main() -> None:
    """Read the options, write the model."""
    parser = argparse.ArgumentParser(prog="python -m models.build.export", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("network", type=Path, help="as train.py wrote it")
    parser.add_argument("words", type=Path, help="as words.py wrote them")
    parser.add_argument("folder", type=Path, help="of the model, such as models/plainspeech-en")
    add_language(parser)
    options = parser.parse_args()
    write_model(options.network, options.words, options.folder, options.language)


if __name__ == "__main__":
    main()
