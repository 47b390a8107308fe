"""`python -m tests.golden write`: work the days that have no log yet, and store them. `states`: fold the logs anew."""

from __future__ import annotations

import json
import sys

from tests.golden import LOGS, differences, events_of, folded_states, log_of, states_of, store_states, write

if __name__ == "__main__":
    match sys.argv[1:]:
        case ["write"]:
            for name in LOGS:
                if not log_of(name).exists():
                    write(name)
                    print(log_of(name))
        case ["states"]:
            for name in LOGS:
                events, stored = events_of(name), json.loads(states_of(name).read_text(encoding="utf-8"))
                print(name, *differences(stored, folded_states(events)), sep="\n  ")
                store_states(name, events)
        case _:
            sys.exit(__doc__)
