# What is said of methods: what they are, whether they can do, whose word stands for them.

method-told = { $family } notch { $width } wide, { $depth } deep, { $spacing } apart, held at { $angle }°; { $sides }, { $back }, { $movement }, { $seating }
method-trowel = { $family } notch { $width } wide, { $depth } deep, { $spacing } apart, held at { $angle }°
method-family = { $family ->
    [rectangular] rectangular
    [U] U
    [V] V
    [slanted] slanted
    [ridge-collapse] ridge-collapse
    [half-round] half-round
   *[square] square
}
method-sides-one = mortar on one side
method-sides-both = mortar on both sides
method-back-keyed = back keyed
method-back-bare = back not keyed
method-movement-none = no stroke
method-movement-one-way = one stroke across the ridges
method-movement-there-and-back = stroke there and back
method-seating-by-hand = set by hand
method-seating-beaten = beaten in
method-seating-vibrated = vibrated

# --- what can do, and what cannot
method-cannot = This method cannot do here ({ $method }): { $reasons }. { $ways } { $word }
    .ear = This method cannot do here: { $reasons }. { $ways } { $word }
method-way = '{ $phrase }' (bed { $bed })
    .ear = '{ $phrase }'
method-ways = Say { $ways }.
method-no-way = No method of the plan does, nor another way with this trowel: alter the base or the mortar.
method-word-how = Or the foreman gives his word: '{ $phrase }'.
    .ear = Or the foreman gives his word.
method-word-nobody = Nobody of the crew may give a word for it.
method-failed = A tile that was set like this has failed here: { $method }. Change something of it. { $ways }
method-which = Say which method of the plan, or what changes of the one in use: { $parts }.
method-waits = Method first: { $area } waits for it. { $told }
method-doubted = Over the base as it was read this method cannot do ({ $method }): { $reasons }. Change it, or show it by the first lift. { $ways }
    .ear = Over the base as it was read this method cannot do: { $reasons }. Change it, or show it by the first lift. { $ways }
method-hard = Mind this method ({ $method }): { $reasons }.
    .ear = Mind this method: { $reasons }.
method-ask = { $ask } { $ways }
method-is-changed = The method is changed.
method-in-use = the method in use
method-same = The same method: { $reason }.

# --- whose word stands for it
method-vouched = { PERSON($name) } stands for { $method }. It stays open until a good lift shows it.
method-can-do = Nobody's word is needed: by the reckoning, or by what was shown, this method can do ({ $method }).
method-word-whose = The foreman gives this word: say '{ $phrase }'.
method-word-plain = on { PERSON($name) }'s word
method-word-done-before = it has done on such a base before
method-word-data-sheet = the mortar's data sheet allows it
method-word-tried-here = it was tried here, without a record

# --- what the pages say of each
method-rests-reckoning = can do by the reckoning: bed { $bed }
method-rests-lift = a good lift of it in this area; bed by the reckoning { $bed }
method-rests-mock-up = mock-up of { $date }, read by { PERSON($name) }: { $contact }; bed by the reckoning { $bed }
method-rests-trial = mock-up trial of { $date }, { $area }, method { $letter }: { $contact }{ $spanned ->
    [yes] { " " }({ $low } to { $high })
   *[no] { "" }
 }{ $likely ->
    [yes] , chance that the next tile passes { $chance }
   *[no] { "" }
 }; released by { PERSON($name) }; record { $head }; bed by the reckoning { $bed }
method-rests-word = { PERSON($name) } stands for it: { $word }; bed by the reckoning { $bed }
method-rests-nothing = cannot do by the reckoning, and nothing says otherwise: bed { $bed }

# --- who sets
method-who-sets = { PERSON($setter) } sets, as the record has it: say '{ $phrase }' if { PERSON($name) } does.
