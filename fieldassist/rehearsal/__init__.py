"""A day played from a text file: a script of timed phrases, what it expects, and the playing on a simulated clock."""
