"""Faults put in one by one: what SQLite calls anomaly testing (https://www.sqlite.org/testing.html, section 3).

A job is run again and again, and its first, second, third ... step fails, until a run has no fault left. A step is what
SQLite asks of the disk, an allocation of its memory, or what Python asks of the disk. Each fault comes once, and in
runs of their own all that follow it fail too.
"""
