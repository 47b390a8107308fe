"""`python -m tests.senseless [N]`: N records (200) that make no sense, sealed with good keys; which of them pass."""

from __future__ import annotations

import sys
from itertools import islice

from tests.proof.mutants import mutants
from tests.proof.reseal import resealed, senseless
from tests.proof.test_sense import KEYS, rich_day

if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    passed = misplaced = 0
    for seed, mutant in enumerate(islice(mutants(rich_day(), seed=2026), count)):
        named = [seq for seq, _ in senseless(resealed(mutant.raws, KEYS))]
        passed += not named
        misplaced += bool(named) and not mutant.first <= named[0] <= mutant.last
        if not named or not mutant.first <= named[0] <= mutant.last:
            print(f"{seed}: {mutant.what}: named at {named[:3]}, made at {mutant.first} to {mutant.last}")
    print(f"{count} records: {passed} passed, {misplaced} were named elsewhere")
    sys.exit(bool(passed or misplaced))
