"""Hearing and speaking: numbers, phrases, recognizers, audio, dialogue."""
