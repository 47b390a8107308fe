# How a reading is read back.
readback-plain = { $name }, { $reading }.
readback-answer = { $name }, { $reading }
readback-answer-digits = { $name }, { $reading }, { $digits }
readback-answer-rival = { $name }, { $reading }, { $digits }, no { $rival }
readback-answers = { $answers }.
readback-digits = { $name }, { $reading }, { $digits }.
readback-rival = { $name }, { $reading }, { $digits }, no { $rival }.
readback-fails = Eso no cumple: { $finding }.
    .ear = No cumple: { $finding }.
readback-last = Lo último fue { $last }.
    .ear = Lo último: { $last }.
readback-in-place-of = En lugar de { $was }:
readback-yes-or-no = ¿Sí o no?
    .ear = ¿Sí?
