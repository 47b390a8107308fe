# The screen of the step at hand, the pad for numbers and what a clock that ran out asks.
work-late-piece = Was piece { $piece } set in time?
work-late-spread = { $left ->
    [0] Was the last of them in in time?
    [one] Was the last piece in in time?
   *[other] Were all { $left } in in time?
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
