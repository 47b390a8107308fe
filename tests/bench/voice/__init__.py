"""The voice benchmark: `python -m tests.bench.voice`. What is heard, misheard and let through, beside a named rival."""
