"""Breaks files at random, bytes and structure, and hands them to every reader: nothing but a refusal may come of it.

`python -m tests.fuzz --seconds 600 [--seed N] [--reader NAME] [--keep FOLDER]` goes on with it; the suite takes a few
of each. A case is told by reader, seed and number, and is made again from them.
"""
