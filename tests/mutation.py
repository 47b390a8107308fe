"""How many faults the tests notice: `python -m tests.mutation [--seed 1] [--minutes 20] [--each 30] [--room trade]`.

Cosmic Ray (`pip install -e '.[mutation]'`) makes the faults: one operator, comparison, number or keyword changed. A
sample of them, chosen by the seed, is tried in a copy of the tree, each against its own module's tests and then its
room's. A fault that no test notices is printed as a difference: it wants a test, or it changes nothing that matters.
"""

from __future__ import annotations

import argparse
import difflib
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROOMS = ("checklist", "trade")
# Types are written with |; what wraps a function or a class is no fault that one makes; "is" for "==" mostly changes
# nothing.
_NO_FAULTS = ("BitOr", "RemoveDecorator", "Eq_Is", "Is_Eq", "IsNot_NotEq")
# Of a test room, what is tried last: it takes long.
_SLOW = ("test_state_machine.py", "test_shown_limits.py")
_LONGEST_S = 300


@dataclass(frozen=True)
class Fault:
    """A change of one file: the occurrence of an operator of Cosmic Ray."""

    file: Path
    operator: str
    occurrence: int

    def applied(self) -> str | None:
        """The file with the fault in it; None where it changes nothing."""
        from cosmic_ray.mutating import mutate_code
        from cosmic_ray.plugins import get_operator

        operator = get_operator(self.operator)()
        code = (ROOT / self.file).read_text(encoding="utf-8")
        changed = mutate_code(code, operator, self.occurrence)
        return None if changed is None or changed == code else str(changed)

    def difference(self, changed: str) -> str:
        """The lines that differ."""
        code = (ROOT / self.file).read_text(encoding="utf-8")
        lines = difflib.unified_diff(code.splitlines(), changed.splitlines(), str(self.file), n=0, lineterm="")
        return "\n".join(line for line in lines if not line.startswith(("---", "+++")))


def faults(room: str) -> list[Fault]:
    """Every fault of a room."""
    from cosmic_ray.ast import ast_nodes, get_ast_from_path
    from cosmic_ray.plugins import get_operator, operator_names

    operators = [name for name in operator_names() if not any(part in name for part in _NO_FAULTS)]
    found = []
    for path in sorted((ROOT / "fieldassist" / room).rglob("*.py")):
        tree = get_ast_from_path(path)
        lines = path.read_text(encoding="utf-8").splitlines()
        for name in operators:
            operator = get_operator(name)
            if operator.arguments():
                continue  # those want to be told what to change
            starts = [start for node in ast_nodes(tree) for start, _ in operator().mutation_positions(node)]
            # How a data class is made (frozen, with slots) changes nothing that a test could notice.
            places = [n for n, (line, _) in enumerate(starts) if not lines[line - 1].lstrip().startswith("@")]
            found += [Fault(path.relative_to(ROOT), name, number) for number in places]
    return found


def tests_of(file: Path) -> Iterator[list[str]]:
    """What a fault in a file is tried against, the likeliest to notice it first."""
    _, room, *_ = file.parts
    folder = ROOT / "tests" / room
    names = [f"test_{part.removesuffix('.py')}.py" for part in file.parts[2:]]
    own = [str((folder / name).relative_to(ROOT)) for name in names if (folder / name).exists()]
    yield [*own, str(file)]  # with the examples in its own docstrings
    all_tests = [p for p in sorted(folder.glob("test_*.py")) if str(p.relative_to(ROOT)) not in own]
    quick = [str(p.relative_to(ROOT)) for p in all_tests if p.name not in _SLOW]
    yield [*quick, *(["tests/golden", "tests/day"] if room == "checklist" else [])]
    slow = [str(p.relative_to(ROOT)) for p in all_tests if p.name in _SLOW]
    if slow:
        yield slow


def noticed(copy: Path, fault: Fault) -> bool:
    """Whether a test in the copy of the tree fails, now that the fault is in it."""
    environment = {**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
    for tests in tests_of(fault.file):
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider", *tests]
        try:
            done = subprocess.run(command, cwd=copy, env=environment, capture_output=True, timeout=_LONGEST_S)
        except subprocess.TimeoutExpired:
            return True
        if done.returncode not in (0, 5):  # 5: there was no test
            return True
    return False


def copied(to: Path) -> Path:
    """A copy of the tree: what is changed is copied, what is only read is linked."""
    for name in ("fieldassist", "tests", "checklists"):
        shutil.copytree(ROOT / name, to / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", to)
    for name in ("assets", "models"):
        (to / name).symlink_to(ROOT / name)
    return to


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=20.0, help="then no further fault is tried")
    parser.add_argument("--each", type=int, default=30, help="how many faults of a room at most")
    parser.add_argument("--room", choices=ROOMS, action="append")
    given = parser.parse_args()
    ends = time.monotonic() + 60 * given.minutes
    rooms = given.room or list(ROOMS)
    dice = random.Random(given.seed)
    samples = {room: faults(room) for room in rooms}
    totals = {room: len(every) for room, every in samples.items()}
    samples = {room: dice.sample(every, min(given.each, len(every))) for room, every in samples.items()}
    score = {room: [0, 0] for room in rooms}
    turns = sorted(((turn, room) for room in rooms for turn in range(len(samples[room]))), key=lambda each: each[0])
    with tempfile.TemporaryDirectory(prefix="mutation-") as scratch:
        copy = copied(Path(scratch))
        for room in rooms:
            if noticed(copy, Fault(Path("fieldassist", room, "__init__.py"), "", 0)):
                sys.exit(f"The tests of {room} fail without any fault: mend that first.")
        for turn, room in turns:
            fault = samples[room][turn]
            if time.monotonic() > ends:
                break
            changed = fault.applied()
            if changed is None:
                continue
            (copy / fault.file).write_text(changed, encoding="utf-8")
            killed = noticed(copy, fault)
            shutil.copy(ROOT / fault.file, copy / fault.file)
            score[room][0] += killed
            score[room][1] += 1
            if not killed:
                print(
                    f"NOT NOTICED {fault.file} ({fault.operator.split('/')[1]})\n{fault.difference(changed)}",
                    flush=True,
                )
    for room, (killed, tried) in score.items():
        share = f"{100 * killed / tried:.0f} %" if tried else "none tried"
        print(f"{room}: {killed} of {tried} faults noticed ({share}); {totals[room]} in all, seed {given.seed}")


if __name__ == "__main__":
    main()
