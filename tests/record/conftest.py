"""A day to try the record on."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.conftest import Crew


@pytest.fixture
def closed(crew: Crew) -> Path:
    """A day with some work in it, closed."""
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.day.close()
    return crew.day.log.path
