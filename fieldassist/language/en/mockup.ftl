# Mock-up trials on the screens: their design, the samples under way, the ranking, the release.

# --- combinations
mockup-notch-tooth = { $notch }, { $tooth } tooth
mockup-mortar = { $mortar }
mockup-own-mortar = own mortar
mockup-part-for = { $part } { $value }
mockup-back-keyed = back keyed
mockup-back-bare = bare back
mockup-movement-none = not moved
mockup-movement-one-way = one way
mockup-movement-there-and-back = there and back
mockup-seating-by-hand = by hand
mockup-seating-beaten = beaten in
mockup-seating-vibrated = vibrated

# --- the ranking
mockup-title = Mock-up
mockup-head-none = No sample is read yet
mockup-head-none-eligible = None of these may be used
mockup-head-no-rank = Too few samples to rank
mockup-head-best = { $best } is best so far
mockup-head-tie = { $letters } cannot be told apart
mockup-head-many = { $count } of them cannot be told apart
mockup-shown-only = shown only
mockup-samples = { $count ->
    [0] not read
    [one] 1 sample
   *[other] { $count } samples
}
mockup-legend-lifted = Circle: one lift. Bar: 95 % sure of the mean.
mockup-legend-through-the-sheet = Circle: one sample. Bar: 95 % sure of the mean.
mockup-next-one = chance that the next passes
mockup-bed-of = { $letter } { $bed }
mockup-beds = Bed: { $beds }.
mockup-needed = needed

# --- the design
mockup-design = A mock-up
mockup-notches = Notches
mockup-sides = Combed on
mockup-back = Back
mockup-movement = Moved across the ridges
mockup-seating = Seated
mockup-repeats = How many of each
mockup-seen = Looked at
mockup-seen-lifted = lifted
mockup-seen-through-the-sheet = through the sheet
mockup-place = It is for
mockup-place-dry = dry
mockup-place-wet = wet
mockup-place-exterior = outdoors
mockup-surface = On
mockup-surface-wall = a wall
mockup-surface-floor = a floor
mockup-readers = Who reads, apart from each other
mockup-questions = What matters most: asked beforehand it takes fewer samples
mockup-figures = Piece, mortar, how far and how long
mockup-named = Name and place
mockup-many-each = { $count } each
mockup-count = { $samples ->
    [one] 1 sample
   *[other] { $samples } samples
}
mockup-of-each = { $ways ->
    [one] 1 way
   *[other] { $ways } ways
}, { $repeats } of each
mockup-unfinished = Not all is said yet: see what is dashed
mockup-too-many = { $count } ways are too many: { $most } at most. Choose less, or leave some out.
mockup-ways-key = { $out ->
    [0] See all { $count } ways
    [one] 1 way is ruled out
   *[other] { $out } ways are ruled out
}
mockup-ways = Every way
mockup-way-runs = runs
mockup-way-shown = Shown only: { $why }
mockup-way-out = Ruled out: { $why }
mockup-way-left = left out
mockup-run-all-the-same = Run it all the same
mockup-do-not-run = Do not run it
mockup-leave-out = Leave it out
mockup-put-in = Run it
mockup-to-design = Back to the design
mockup-plan = Plan this mock-up
mockup-from-file = A file wrote this trial with more than this page shows: what is chosen here takes its place.

# --- the day
mockup-new = New mock-up
mockup-see = See the mock-up
mockup-waits = { $samples ->
    [one] not begun, 1 sample
   *[other] not begun, { $samples } samples
}
mockup-under-way = { $closed ->
    [yes] closed, { $done } of { $of } samples
   *[no] { $done } of { $of } samples
}

# --- what comes next
mockup-none = No mock-up is planned
mockup-to-day = To the day
mockup-read-by = { $seen ->
    [lifted] { $count ->
        [one] 1 lift
       *[other] { $count } lifts
    }
   *[seen] { $count ->
        [one] 1 sample
       *[other] { $count } samples
    }
}, read by { $names }
mockup-pieces = Pieces and readers
mockup-one-more = One more of { $letters }
mockup-go-on = Go on: { $left ->
    [one] 1 sample left
   *[other] { $left } samples left
}
mockup-begin = Begin this mock-up
mockup-release = Release { $letter }
mockup-release-signed = Release { $letter }: { PERSON($name) } signs it
mockup-nothing-to-release = Nothing to release
mockup-day-signed = The day is signed: a method is released before that, or on another day.
mockup-not-here = Another area is worked at now. Go to the mock-up first.
mockup-mean = { $mean } % { $interval }
mockup-released = { $letter } is released for { $areas } by { PERSON($name) }.

# --- samples
mockup-to-ranking = To the ranking
mockup-spoiled = spoiled: { $why }
mockup-being-read = being made or read
mockup-reads = { $name } { $percent } %
mockup-read = { $percent } %
mockup-readings = { $reads }
mockup-batch = batch { $batch }, { $age } old
mockup-made-again = made again
mockup-counted = { $percent } % counted
mockup-void = void { $void }
mockup-edges-full = edges full
mockup-edges-not-full = void at an edge
mockup-bed = bed { $bed }
mockup-bed-by-mass = bed { $bed } by mass
mockup-effort = { $effort ->
    [easy] easy
    [hard] hard
   *[fair] fair
}
mockup-air = { $where ->
    [none] no air
    [middle] air in the middle
    [edge] air at an edge
    [corners] air in the corners
   *[all-over] air all over
}

# --- the release
mockup-release-title = Release a method
mockup-release-which = Which method
mockup-release-where = For which areas
mockup-no-area = The plan has no area yet in which tile is set.
mockup-release-for-none = Choose an area that it is for.
mockup-nobody-releases = Nobody of the crew may release a method: that is the foreman's.
mockup-release-why = Why { $letter }, and not the best?
mockup-release-who = Who releases it?
mockup-why-less-mortar = it lays less mortar
mockup-why-less-effort = it takes less effort
mockup-why-nothing-bought = the trowel is here
mockup-why-cannot-be-told-apart = it cannot be told apart from the best

# --- the sample at hand
mockup-sample = { $again ->
    [yes] Sample { $number } of { $planned }, made again
   *[no] Sample { $number } of { $planned }
}
mockup-next = Make the next sample
mockup-next-sample = Next sample
mockup-all-made = All samples are made
mockup-see-ranking = See the ranking
mockup-who-reads = { PERSON($name) } reads
mockup-spoil = Spoiled
mockup-why-spoiled = Why is it spoiled?
mockup-spoiled-is-repeated = It stays in the record and is made again. After the look it counts, whatever it shows.
mockup-none-runs = Nothing of this can run: choose other notches, or run one all the same.
mockup-short = { $batches ->
    [one] 1 batch
   *[other] { $batches } batches
}, about { $minutes }

# --- where a released method is used
mockup-rests = { $letter } of the mock-up on { $date }: { $mean } %{ $spanned ->
    [yes] { " " }({ $low } to { $high })
   *[no] { "" }
 }{ $likely ->
    [yes] , { $chance } pass
   *[no] { "" }
 }; released by { PERSON($name) }
mockup-released-as = { $letter } of the mock-up

# --- how a sample is measured
mockup-measures-bed = Its bed
mockup-measured-gauge = by gauge
mockup-measured-mass = by mass
mockup-measured-none = not at all
mockup-grid = Counted on a grid besides
mockup-grid-no = eyes alone
mockup-grid-yes = counted too
