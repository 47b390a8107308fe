# How a reading is read back.
readback-plain = { $name }, { $reading }.
readback-answer = { $name }, { $reading }
readback-answer-digits = { $name }, { $reading }, { $digits }
readback-answer-rival = { $name }, { $reading }, { $digits }, not { $rival }
readback-answers = { $answers }.
readback-digits = { $name }, { $reading }, { $digits }.
readback-rival = { $name }, { $reading }, { $digits }, not { $rival }.
readback-fails = That fails: { $finding }.
    .ear = Fails: { $finding }.
readback-last = The last one was { $last }.
    .ear = Last one: { $last }.
readback-in-place-of = In place of { $was }:
readback-yes-or-no = Yes or no?
    .ear = Yes?
