"""An I/O error, a full disk or no memory, at any step: nothing acknowledged is lost, and whoever asked gets a sentence.

Here a thin sample of the steps, in a process of its own; all of them: `python -m tests.faults`.
"""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="played with the SQLite library of Linux")


def test_whatever_step_fails_nothing_acknowledged_is_lost_and_no_job_ends_with_a_traceback() -> None:
    run = [sys.executable, "-m", "tests.faults", "--each", "307"]
    done = subprocess.run(run, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    faults, harm = map(int, re.findall(r"\d+", done.stdout.splitlines()[-1]))
    assert faults > 45
    assert harm == 0
