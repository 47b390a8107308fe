"""The one place where voice, touch and command line meet the engine and the log."""
