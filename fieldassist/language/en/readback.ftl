# How a reading is read back.
readback-plain = { $name }, { $reading }.
readback-answer = { $name }, { $reading }
readback-answer-digits = { $name }, { $reading }, { $digits }
readback-answer-rival = { $name }, { $reading }, { $digits }, not { $rival }
readback-answers = { $answers }.
readback-digits = { $name }, { $reading }, { $digits }.
readback-rival = { $name }, { $reading }, { $digits }, not { $rival }.
readback-answer-name-rival = { $name }, { $reading }, not { $rival }
readback-name-rival = { $name }, { $reading }, not { $rival }.
# A name that is a number, where a letter before it may have gone unheard.
readback-no-letter = { $reading }, no letter
readback-number-alone = { $number } alone
readback-fails = That fails: { $finding }.
    .ear = Fails: { $finding }.
readback-last = The last one was { $last }.
    .ear = Last one: { $last }.
readback-in-place-of = In place of { $was }:
readback-yes-or-no = Yes or no?
    .ear = Yes?
