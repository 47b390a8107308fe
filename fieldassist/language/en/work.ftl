# The screen of the step at hand, the pad for numbers and what a clock that ran out asks.
work-late-piece = Was piece { $piece } set in time?
work-late-spread = { $left ->
    [0] Was the last piece set in time?
    [one] Was the last piece set in time?
   *[other] Were all { $left } set in time?
}
work-late-pot = Was bucket { $bucket } empty in time?
work-late-other = { $clock }: done in time?
work-late-yes-open = Yes, set before { $time }
work-late-yes-pot = Yes, empty before { $time }
work-late-yes-other = Yes, before { $time }
work-late-no-open = No. Scraped off and thrown away
work-late-no-pot = No. Thrown away
work-late-no-other = No. { $name }
# The pad: figures are told in the unit that is typed.
work-limit-between = { $least } to { $most }
work-limit-at-least = min { $least }
work-limit-at-most = max { $most }
work-off-temperature-under = { $by } too cold
work-off-temperature-over = { $by } too warm
work-off-amount-under = { $by } too little
work-off-amount-over = { $by } too much
work-keep = Keep { $value }
work-keep-fails = Fails: keep { $value }
work-keep-nothing = Keep
work-type-first = Type the number first.
work-implausible = { $value } cannot be: it lies between { $low } and { $high }.
work-whole-only = Only a whole number can be kept here.
work-last-same = { $value }
    as before
work-last = { $value }
    as { $of }
# The rail: each movement in a word, and once it is done.
work-act-key = Key
work-act-spread = Spread
work-act-comb = Comb
work-act-set = Set
work-act-slide = Slide
work-act-beat-in = Beat in
work-act-lift = Lift
work-act-carry = Bring
work-act-edges = Edges
work-did-key = keyed
work-did-spread = spread
work-did-comb = straight
work-did-set = set
work-did-slide = slid
work-did-beat-in = beaten in
work-did-lift = lifted
work-did-carry = ready
work-did-edges = straight
work-step-of = { $step } of { $of }
# Beside the drawing.
work-side = { $side }
work-stroke = at least { $least }
# The keys of the pad.
work-pad-ruler = ruler of one inch
work-pad-rub-out = rub out
work-pad-below-zero = below zero
work-pad-sixteenth-less = –1/16
work-pad-sixteenth-more = +1/16
work-pad-inch-more = +1 in
# What was heard, and how something is said.
work-heard-taken = heard: { $words }
work-heard-refused = “{ $words }”: not done
work-heard-dropped = “{ $words }”: not taken
work-heard-asked = “{ $words }”: go on
work-heard-not-taken = “{ $words }”: not taken, { $why }
work-say = “{ $phrase }”
work-say-called = “{ $attention }, { $phrase }”
# The page of the step at hand.
work-no-day = No day is open
work-open-day = To the days
work-signed = The day is signed
work-which-area = Which area?
work-caution = Mind this
work-method-waits = Another method first
work-area-done = This area is done
work-yes = { $fails ->
    [yes] Yes, it fails
   *[no] Yes
}
work-lift = Lift piece { $piece }
work-lift-fresh = while the mortar is fresh
work-piece = Piece { $piece }
work-batch = batch { $batch }
work-sides = { $sides ->
    [both] both sides
   *[other] one side
}
work-skins-at = skins at { $time }
work-called = step by step
work-counted-as = counted as piece { $piece } was witnessed
work-spread-for = Spread for piece { $piece }
work-mix-first = Mix a batch first
work-mix = Mix a batch
work-all-in = All pieces are in
work-go-on = What is next?
work-next-piece = Next piece
work-piece-in = { $piece } is in
work-spread-some = { $done ->
    [0] Spread: none in yet
    [one] Spread: 1 is in
   *[other] Spread: { $done } are in
}
work-spread-of = Spread: { $done } of { $wanted } are in
work-wrong = Something went wrong
work-lifted = lifted { $coverage }
work-next = next
work-name-again = { $name } again
work-other-reading = { $name }
work-else = Something else
work-take-back = Take back
work-take-back-what = Take back: { $what }
work-take-back-last = Done last
work-photo = Photo
work-note = Note
work-repeat = Say it again
work-note-words = A note
work-note-spoken = Speak a note
work-type-name = Type it
work-take-photo = Take the photo
work-by-pin = { PERSON($name) }: give PIN
work-no-pin = { PERSON($name) } has no PIN on this tablet. It is given in the crew's set-up, by the person.
work-is-here = { PERSON($name) } is here
work-wait-no = Not yet
work-expired-sounds = It sounds until somebody answers.
work-expired-pot = It sounds until somebody answers. The pot still has { $minutes } min.
work-why-late = What kept you?
work-cures = See two cures
work-other-words = In other words
work-take-back-first = Take back what came after it first.
# Something else: what may be done besides.
work-group-answers = Other answers
work-group-told = What else can be told now
work-group-begun = What else can be begun
work-group-lifts = Pieces and lifts
work-group-method = Who sets, and how
work-group-mortar = Mortar and time
work-group-correct = Correct a reading
work-group-words = Notes and questions
work-nothing-else = Nothing else can be done now. Answer the step first.
work-accepted-since = Accepted, since
work-back-to-step = Back to the step
