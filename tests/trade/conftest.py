"""Settings of the trade's tests."""

from __future__ import annotations

from hypothesis import settings

# How long an example takes says nothing about the trade, and a busy machine is no failure.
settings.register_profile("trade", deadline=None)
settings.load_profile("trade")
