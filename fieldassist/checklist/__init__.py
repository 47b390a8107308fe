"""What must be done, in which order, within which limits: a foreman's files, and the engine for them.

Read in this order: fields, plan, schema, loader (the files); rules (limits by name); commands, events, state,
engine (what happens when somebody says something).
"""
