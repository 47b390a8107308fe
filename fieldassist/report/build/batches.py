"""Batches of mortar, and the tiles that were set while each was the latest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldassist.checklist.events import Event
from fieldassist.checklist.state import MortarBatch
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import ranges
from fieldassist.report.report_model import Batch, ClockLine, SequenceLine
from fieldassist.trade.quantities import Quantity

RoundKey = tuple[str, int]


@dataclass
class OpenBatch:
    """A batch while its events are read; clock: the run of its pot life."""

    title: str
    key: RoundKey
    event: Event
    steps: list[SequenceLine] = field(default_factory=list)
    clock: int | None = None
    tiles: set[int] = field(default_factory=set)
    done: bool = False


class Batches:
    """The batches of an area."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._all: list[OpenBatch] = []

    def open(self, title: str, key: RoundKey, event: Event) -> None:
        """A round that changes the batch was opened."""
        self._all.append(OpenBatch(title, key, event))

    def of_round(self, key: RoundKey) -> OpenBatch | None:
        """The batch of a round; a round taken back and opened again is told by the later one."""
        return next((b for b in reversed(self._all) if b.key == key), None)

    def _mixed(self, batch: MortarBatch | None) -> str:
        if batch is None:
            return ""
        words, told = self._context.words, []
        if batch.bags is not None:
            told.append(f"{words(Quantity(batch.bags, 'count'))} {'bag' if batch.bags <= 1 else 'bags'}")
        if batch.lot:
            told.append(f"lot {batch.lot}")
        if batch.water is not None:
            told.append(f"water {words(batch.water)}")
        return ", ".join([*told, f"bucket {batch.bucket}"])

    def numbered(self, number: int) -> OpenBatch | None:
        """The batch that tiles name so, which is the round of its section; None where it does not count."""
        return next((b for b in reversed(self._all) if b.key[1] == number and self._context.counts(b.event)), None)

    def told(self, clocks: Mapping[int, ClockLine], mixed: Mapping[int, MortarBatch]) -> tuple[Batch, ...]:
        """All of them. clocks: of the area, by the event that started each; mixed: of what each is, by its round."""
        return tuple(
            Batch(
                seq=b.event.seq,
                title=b.title,
                mixed=self._mixed(mixed.get(b.key[1])),
                opened=self._context.time(b.event),
                who=self._context.who(b.event),
                steps=tuple(b.steps),
                clock=clocks.get(b.clock) if b.clock is not None else None,
                tiles=len(b.tiles),
                which=ranges(sorted(b.tiles)) if b.tiles else "",
                done=b.done,
                withdrawn=not self._context.counts(b.event),
            )
            for b in self._all
        )
