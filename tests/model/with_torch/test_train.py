"""Training: what a batch asks for, that the same seed draws the same, and that a network learns from it."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import torch

from models.build import train
from models.build.en.phones import UNITS
from models.build.network import CONTEXT, SUBSAMPLING, TdnnF
from models.build.speech_sets import RATE_HZ, SetWriter, read_set
from models.build.units import forward_pdf, self_loop_pdf

PHONES = [["N", "EH", "K", "S", "T"], ["T", "AY", "L"]]
ENDS = [["SIL", 0.10], ["N", 0.20], ["EH", 0.35], ["K", 0.4], ["S", 0.5], ["T", 0.6], ["AY", 0.8], ["L", 1.0]]


@pytest.fixture
def stem(tmp_path: Path) -> Path:
    stem = tmp_path / "made-up"
    random = np.random.default_rng(3)
    with SetWriter(stem) as out:
        for _ in range(12):
            samples = (random.standard_normal(RATE_HZ) * 3000).astype(np.int16)
            out.add(samples, "next tile", PHONES, "test:noise", ENDS)
    return stem


def test_silence_between_words_may_be_left_out_and_nothing_else(stem: Path) -> None:
    units, optional = train.supervision(read_set(stem)[0])
    names = ["SIL", *PHONES[0], "SIL", *PHONES[1], "SIL"]
    assert units.tolist() == [UNITS.ids[name] for name in names]
    assert optional.tolist() == [name == "SIL" for name in names]


def test_the_pdfs_follow_the_times_of_the_phones(stem: Path) -> None:
    utterance = read_set(stem)[0]
    placed, hop, frames = 1600, 160, 130
    pdfs = train.pdfs_by_time(utterance, placed, frames, hop)
    assert len(pdfs) == -(-frames // SUBSAMPLING)
    for number, pdf in enumerate(pdfs):
        at = (number * SUBSAMPLING * hop + train.WINDOW / 2 - placed) / RATE_HZ
        name = next((name for name, end in ENDS if at <= end), "SIL") if at >= 0 else "SIL"
        assert pdf in (forward_pdf(UNITS.ids[name]), self_loop_pdf(UNITS.ids[name])), (at, name)
    assert pdfs[0] == forward_pdf(UNITS.ids["SIL"])
    later = [pdf for before, pdf in pairwise(pdfs) if before // 2 == pdf // 2]
    assert all(pdf % 2 for pdf in later), "a unit that goes on has its self-loop's pdf"


@pytest.mark.parametrize("by_frames", [True, False])
def test_the_same_seed_draws_the_same_batches(stem: Path, by_frames: bool) -> None:
    sets, weights = train.load([f"{stem}:0.5"], by_frames=by_frames)
    one, other = (next(iter(train.Batches(sets, weights, 2000, 7, by_frames=by_frames))) for _ in range(2))
    assert torch.equal(one.features, other.features)
    output = TdnnF(32, 8)(one.features)
    assert one.features.shape[2] == 40
    assert output.shape[1] == -(-(one.features.shape[1] - 2 * CONTEXT) // SUBSAMPLING)
    if by_frames:
        assert one.wanted.shape == output.shape[:2]
    else:
        assert len(one.wanted) == len(output)


def test_a_network_learns_frames(stem: Path) -> None:
    sets, weights = train.load([str(stem)], by_frames=True)
    batch = next(iter(train.Batches(sets, weights, 2000, 7, by_frames=True)))
    torch.manual_seed(0)
    network = TdnnF(32, 8).train()
    network.whiten(batch.features.reshape(-1, 40).mean(0), batch.features.reshape(-1, 40).std(0))
    optimizer = torch.optim.AdamW(network.parameters(), lr=3e-3)
    rights = []
    for _ in range(60):
        output = network(batch.features)
        right, gradient = train.by_pdf(output, batch.wanted)
        optimizer.zero_grad()
        output.backward(gradient / 100)
        optimizer.step()
        rights.append(right)
    assert np.mean(rights[-5:]) > 2 * max(rights[0], 0.2)


def test_a_set_without_times_cannot_be_learnt_by_frames(tmp_path: Path) -> None:
    with SetWriter(tmp_path / "plain") as out:
        out.add(np.zeros(8000, np.int16), "tile", [["T", "AY", "L"]], "test:silence")
    with pytest.raises(SystemExit, match="times of phones"):
        train.load([str(tmp_path / "plain")], by_frames=True)
