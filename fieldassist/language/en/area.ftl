# The pages of an area.

area-title = { CAPITAL($name) }
area-running = Area { $number } of { $areas }: { CAPITAL($name) }
area-running-on = Area { $number } of { $areas }: { CAPITAL($name) }, continued
area-dagger = †
area-dagger-means = { $dagger } known second-hand: the standard itself was not seen; the appendix names the source.
area-days-after = “+1” behind a time: on the day after; “−1”: on the day before.
area-rounded = Contact is rounded down, voids up. Where no interval stands beside a figure, its doubt is not known.

# --- pieces, lifts and counts
area-piece = { $kind ->
    [gauged-panel] panel { $number }
    [natural-stone] stone { $number }
   *[tile] tile { $number }
}
area-pieces = { $kind ->
    [gauged-panel] { $count ->
        [one] panel { $numbers }
       *[other] panels { $numbers }
    }
    [natural-stone] { $count ->
        [one] stone { $numbers }
       *[other] stones { $numbers }
    }
   *[tile] { $count ->
        [one] tile { $numbers }
       *[other] tiles { $numbers }
    }
}
area-count = { $kind ->
    [gauged-panel] { $count ->
        [one] 1 panel
       *[other] { $count } panels
    }
   *[other] { $count ->
        [one] 1 piece
       *[other] { $count } pieces
    }
}
area-not-read = not read

# --- how it stands
area-goes-on = Goes on
area-finished-at = { $timed ->
    [yes] Finished { $time }
   *[no] Finished
}
area-finished = { $timed ->
    [yes] Finished { $time }, released by { $how }
   *[no] Finished, released by { $how }
}
area-about = { CAPITAL($where) }; { $place ->
    [exterior] exterior
    [wet] interior, wet
   *[dry] interior, dry
}. { $product } { $size }, { $thick } thick, { $rectified ->
    [yes] rectified
   *[no] not rectified
}, { $joined ->
    [yes] joint { $joint }
   *[no] no joint in the plan
}{ $weighed ->
    [yes] , { $weight } each
   *[no] { "" }
}.
area-product-tile = Tile
area-product-natural-stone = Natural stone
area-product-gauged-panel = Gauged panels
area-carried = Goes on from { $date } (log head { $head } …, { $sealed ->
    [yes] sealed
   *[no] NOT SEALED
}); what is told here without a date is of this day.

# --- the sentence of verdict
area-verdict-failures = { $count ->
    [one] OPEN: one failure, { $finding }.
   *[other] OPEN: { $count } failures, the first: { $finding }.
}
area-verdict-nothing = Nothing is set here yet.
area-verdict-set = { $state ->
    [full] Set in full.
    [open] All is set, but the area is not finished.
    [less] Finished with less than planned: { $set } of { $surface }.
   *[part] Not finished: { $gridded ->
        [yes] { $count ->
            [one] { $pieces } of { $planned } is set.
           *[other] { $pieces } of { $planned } are set.
        }
       *[no] { $set } of { $surface } are set.
    }
}
area-verdict-all = { $count ->
    [one] The piece lies within reach of a good lift.
   *[other] All { $pieces } lie within reach of { $lifts ->
        [one] one good lift.
       *[other] { $lifts } good lifts.
    }
}
area-verdict-reach = { $count ->
    [0] No piece lies within reach of a good lift yet.
    [one] 1 of { $pieces } lies within reach of a good lift.
   *[other] { $count } of { $pieces } lie within reach of a good lift.
}
area-verdict-suspect = { CAPITAL($pieces) } { $count ->
    [one] is SUSPECT.
   *[other] are SUSPECT.
}
area-verdict-failed = { CAPITAL($pieces) } FAILED and { $count ->
    [one] is in place.
   *[other] are in place.
}
area-verdict-uncovered = No lift covers { $pieces } yet.
area-verdict-accepted = { CAPITAL($pieces) } { $count ->
    [one] was accepted in words and not lifted.
   *[other] were accepted in words and not lifted.
}
area-verdict-cured = { $count ->
    [one] One lift failed
   *[other] { $count } lifts failed
}{ $cleared ->
    [0] { "" }
    [one] ; one suspect was cleared
   *[other] ; { $cleared } suspects were cleared
}{ $again ->
    [0] { "" }
    [one] , one piece was set again
   *[other] , { $again } pieces were set again
}.
area-verdict-bags = { $verdict ->
    [too-little] Less mortar went in than the method needs.
   *[other] More mortar went in than the method needs.
}

# --- four figures
area-head-set = Set, of planned
area-of-planned = of { $planned }, { $pieces }
area-head-required = Required of each lift
area-none-required = nothing: no piece is lifted by this checklist
area-need-contact = contact { $percent }{ $dagger }
area-need-void = no void over { $void }{ $dagger }
area-need-corners = { $edges ->
    [yes] corners{ $dagger } and edges full
   *[no] corners full{ $dagger }
}
area-need-lifts = { $count ->
    [one] one good lift{ $dagger }
   *[other] { $count } good lifts{ $dagger }
}
area-head-lifts = Lifts
area-no-lift = { $open ->
    [0] none yet
   *[other] { $open } not judged
}
area-lifts-good = { $good } good
area-lifts-failed = , { $failed ->
    [0] none failed
   *[other] { $failed } failed
}{ $unread ->
    [0] { "" }
   *[other] , { $unread } not complete
}{ $open ->
    [0] { "" }
   *[other] , { $open } not judged
}
area-worst-mean = ; worst { $worst }, mean { $mean }
area-head-proven = What lifts can prove
area-proven = { $good } of { $drawn } by lot good: at least { $share } of the pieces under the lot ({ $sure } sure)
area-proven-no-share = { $good } of { $drawn } by lot good: nothing is proven of the others
area-proven-nothing = { $lifted ->
    [0] nothing: no lift was judged
   *[other] nothing of the other pieces: no lift was by lot
}

# --- methods
area-methods = { $count ->
    [one] The method
   *[other] { $count } methods
}
area-methods-note = ridges at natural size, before and after the piece is pressed in
area-method = { CAPITAL($family) } { $size } at { $angle }°, mortar on the { $surface ->
    [wall] wall
   *[floor] floor
}{ $sides ->
    [both] { $kind ->
        [gauged-panel] {" "}and the panel
       *[other] {" "}and the tile
    }
   *[one] {""}
}, { $back ->
    [keyed] back keyed
   *[bare] back not keyed
}, { $movement ->
    [none] no stroke
    [one-way] one stroke one way
   *[there-and-back] stroke there and back
}, { $seating ->
    [by-hand] seated by hand
    [vibrated] vibrated
   *[beaten] beaten in
}
area-method-sentence = { $method }.
area-method-alt = Section at natural size: { $method }. Bed after it is pressed in: { $bed }.
area-method-unused = { $letter } ({ $method }) was in use here, and nothing was set with it.
area-bed = Bed { $bed }
area-bed-allowed = { $keyed ->
    [yes] with the keyed back; mortar allows { $at-least } to { $at-most }.
   *[no] ; mortar allows { $at-least } to { $at-most }.
}
area-method-lifts = { $lifted ->
    [0] No lift yet.
   *[other] Lifts: { $good } of { $lifted } good.
}
area-method-on = Under { $pieces }.
area-method-on-none = Nothing lies on it.
area-method-by = { $names }, { $one ->
    [yes] { $first }
   *[no] { $first } to { $last }
}.
area-method-released = { $how ->
    [pin] Released by { $name } { $time } (PIN).
   *[called] Released by { $name } { $time } (called by voice).
}
area-rests-lift = A good lift here bears it out.
area-rests-reckoning = Reckoned to reach what is required; no good lift bears it out.
area-rests-mock-up = It rests on a mock-up.
area-rests-nothing = NOTHING shows that it can do.
area-rests-word = It rests on the word of { $name }; no lift bears it out.
area-rests-trial = Released by { $name } from the mock-up trial of { $date } in { $area }, { $letter }: { $mean }{ $spanned ->
    [yes] { " " }({ $low } to { $high })
   *[no] { "" }
} of { $samples } samples, log head { $head } ….

# --- failures
area-failure = { $state ->
    [open] Failure { $number } IS OPEN
   *[cured] Failure { $number }, and its cure
}
area-failure-open = OPEN.
area-failure-cured = Cured.
area-failure-cured-but = Cured; { $pieces } stay open.
area-story-found = Found.
area-story-suspect = Suspect.
area-story-outward = Lifted outward.
area-story-left = Left.
area-story-changed = Changed.
area-story-shown = Shown.
area-story-lift = lift { $lift }, { $piece }: { $contact }, { $required } required
area-story-void = void of { $void }, { $allowed } allowed
area-story-corner = a corner not full
area-story-edge = an edge not full
area-story-clauses = { CAPITAL($clauses) }.
area-story-suspects = All set since the last good lift: { $pieces }.
area-story-no-suspects = No other piece became suspect.
area-story-lifted = Lift { $lift }, { $piece }: { $contact }, { $verdict ->
    [passed] good.
    [failed] FAILED.
   *[not-complete] not complete.
}
area-story-method = Method { $letter }.
area-story-done = { $step }.
area-story-released = { $step } by { $name }.
area-story-not-lifted = { CAPITAL($pieces) } not lifted: { $why }.
area-story-accepted = { CAPITAL($pieces) } accepted by { $name }: “{ $words }”.
area-story-taken-off = { CAPITAL($pieces) } taken off.
area-story-again = Failed again: { $shown }.
area-story-closed = Cure shown: { $shown }.
area-brief-found = { $earlier ->
    [yes] On an earlier day, { $place }: { $finding }
   *[no] { $time } { $place }: { $finding }
}{ $required ->
    [yes] {" "}({ $limit } required)
   *[no] { "" }
}.
area-brief-step = { $time } { $step }

# --- lifts
area-lifts = { $count ->
    [one] lift { $numbers }
   *[other] lifts { $numbers }
}
area-lifts-title = { $photos ->
    [all] { $count ->
        [one] The lift, with its photo
       *[other] Lifts, each with its photo
    }
   *[some] { $count ->
        [one] The lift
       *[other] Lifts
    }
}
area-lifts-note = { $photos ->
    [all] what was read stands beside its picture
    [none] no photo was taken of any
   *[some] { $count ->
        [one] a photo was taken of one of { $lifts }
       *[other] photos were taken of { $count } of { $lifts }
    }
}{ $many ->
    [yes] ; failed and doubtful ones first
   *[no] { "" }
}
area-lift-head = { $column ->
    [photo] Photo
    [lift] Lift
    [contact] Contact
    [read] Read besides
   *[verdict] How it is judged
}
area-lift-of = Lift { $lift }, { $piece }
area-lift-when = { $time }{ $batched ->
    [yes] , batch { $batch }
   *[no] { "" }
}
area-doubt-unknown = doubt not known
area-way = { $how ->
    [photo] photo
    [grid] grid
    [eye] by eye
   *[unknown] way not told
}{ $read ->
    [yes] , { $name }
   *[no] { "" }
}
# Of a back that was measured on its photo: the interval of its contact, how it came about, and what stands beside it.
area-between = between { $low } and { $high }
area-way-back = { $way ->
    [painted] painted on the photo by { $name }
    [proposed] measured on the photo, confirmed by { $name }
   *[corrected] measured on the photo{ $known ->
        [yes] {" "}({ $before })
       *[no] { "" }
    }, put right by paint, { $name }
}
area-back-eye = By eye before: { $contact } ({ $name }).
area-back-photo = On its photo: { $contact }, { $between } ({ $way ->
    [painted] painted
    [proposed] measured
   *[corrected] measured, put right by paint
}, { $name }).
area-back-void = on its photo { $void }
area-back-circle = circle in it { $circle }
area-back-strip = edge strip { $contact }
area-back-ridges = { $ridges ->
    [straight] ridges straight
    [curved] ridges curved
    [swirled] RIDGES IN SWIRLS
   *[not-readable] ridges not readable
}
area-back-kind = back said to be { $kind ->
    [bare] bare
    [skim-coated] skim-coated
    [combed] combed
   *[clear-sheet] under a clear sheet
}{ $against ->
    [yes] : THE METHOD KEYS OR COMBS IT
   *[no] { "" }
}
area-back-cannot = The photo by itself could not tell: { $why }
area-back-against = ITS PHOTO SAYS OTHERWISE: { $contact }, { $between }.
area-back-void-against = ITS PHOTO SHOWS A VOID OF { $void }.
area-back-alt = Photo of the back of lift { $lift }, { $piece }, squared up: { $contact }, { $verdict ->
    [passed] good
    [failed] failed
    [not-complete] not complete
   *[none] not judged
}. { $seen }
area-back-no-void = Nothing is void.
area-back-voids = Hatched is what bears no mortar; the largest void, { $largest }, is framed, { $left } to { $right } from the left and { $top } to { $bottom } from above.
area-back-bar = { $system ->
    [us] 4 in
   *[metric] 100 mm
}
area-feet-measured = Measured on one photograph each, corners and samples set by { $names }: { $of }. It counts mortar seen on the back: mortar that stayed on the wall counts as void; mortar that lies on the back without having touched cannot be told apart. Checked on computed pictures only, not on real lifts.
area-feet-painted = Voids painted by hand on the photograph by { $names }: { $of }. The interval is for strokes beside the voids’ borders, not for what the eye took for void. Checked on computed pictures only, not on real lifts.
area-lift-verdict = { $verdict ->
    [passed] Good.
    [failed] FAILED.
    [not-complete] NOT COMPLETE.
   *[none] NOT JUDGED.
}
area-void = void { $void }
area-no-void-read = no void read
area-largest-void = largest void { $void }
area-corners = { $full ->
    [yes] corners full
   *[no] a corner not full
}
area-all-full = corners and edges full
area-edges = { $full ->
    [yes] edges full
   *[no] an edge not full
}
area-bed-gauged = bed { $bed } by gauge
area-lift-unread = Not read: { $parts }.
area-lift-not-judged = It was lifted; { $read ->
    [short] its contact is below what is required, and it was not read to the end.
    [yes] it was not read to the end.
   *[no] what it showed was not read.
}
area-first-proof = First proof of { $letter }.
area-one-eye = By one eye alone.
area-lift-undone = { $anew ->
    [yes] Read anew after
   *[no] Not read anew since
} { $was }{ $judged ->
    [yes] , judged as failed,
   *[no] { "" }
} was { $how ->
    [corrected] corrected
   *[taken-back] taken back
} at { $time }.
area-lift-photo-back = { $count ->
    [one] A photo of it was
   *[other] { $count } photos of it were
} taken back.
area-lift-amended = Corrected by { $count ->
    [one] addendum { $parts }
   *[other] addenda { $parts }
}.
area-short-contact = contact under { $required }{ $dagger }
area-short-void = void over { $allowed }{ $dagger }
area-short-void-near-edge = a void at an edge
area-short-corner-unsupported = a corner open
area-reasons = { CAPITAL($reasons) }.
area-photo-lift = Photo of lift { $lift }, { $piece }: { $contact }, { $verdict ->
    [passed] good
    [failed] failed
    [not-complete] not complete
   *[none] not judged
}.
area-photo-of = Lift { $lift }, { $piece }
area-photo-other = { $time }{ $at ->
    [yes] , { $step }
   *[no] { "" }
}, { $name }{ $withdrawn ->
    [yes] {" "}(taken back)
   *[no] { "" }
}
area-photo-alt = Photo: { $caption }.
area-photos-between = Photos between the areas
area-photos-count = { $count ->
    [one] one that belongs to no area
   *[other] { $count } that belong to no area
}
area-photos = Other photos
area-photos-note = { $count ->
    [one] one that belongs to no lift
   *[other] { $count } that belong to no lift
}

# --- mortar
area-mortar = Mortar and its clocks
area-lot = lot { $lots }
area-slake-least = at least { $minutes } of slake
area-bed-band = bed { $at-least } to { $at-most }
area-head-batch = Batch
area-head-mixed = Mixed
area-head-bags = Bags, water
area-head-slaked = Slaked
area-head-pot-life = Pot life, of { $minutes }
area-head-open-time = Longest open time, of { $minutes }
area-batch = { $number }{ $bucket ->
    [0] { "" }
    [one] { "" }
   *[other] , bucket { $bucket }
}
area-bags-water = { $known ->
    [both] { $bags }, { $water }
    [bags] { $bags }
   *[none] not told
}
area-used = { $state ->
    [out] out
    [running] { $minutes }, runs
    [together] not timed
   *[used] { $minutes }
}
area-batches-folded = { $count ->
    [one] 1 other
   *[other] { $count } others
}{ $told ->
    [all] , of { $bags } bags
    [some] , of { $bags } bags and of some that were not counted
   *[none] { "" }
}, below { $most } of both.
area-clocks-measured = Slake, pot life and open time are measured from the spoken step; none is asked.
area-bags = Bags: { $used } used, { $predicted } expected for { $set } as it was set. { $verdict ->
    [under-way] What is left in the buckets is not known yet.
    [as-predicted] Within the doubt of a bag.
    [too-little] With all of it behind the pieces the bed is { $implied }, not { $bed }{ $short ->
        [yes] ; the mortar asks for { $least }
       *[no] { "" }
    }.
   *[other] With all of it behind the pieces the bed is { $implied }, not { $bed }.
}
area-bags-not-counted = Bags were not counted for this area.
area-bags-open = Not answered: OPEN.
area-bags-expected = { $bags } bags expected
area-bags-used = { $bags } used

# --- hold points, handling, what goes on
area-holds = Handling and hold points
area-handling = A piece.
area-earlier-day = earlier
area-hold = { $name }.
area-hold-after = After: { $steps }.
area-step-read = { $step } { $value }
area-released-how = { $how ->
    [pin] { $name }{ $deputy ->
        [yes] , deputy for { $foreman }
       *[no] { "" }
    }, PIN at the wall
    [confirmed] { $name }{ $deputy ->
        [yes] , deputy for { $foreman }
       *[no] { "" }
    }, called, PIN at { $time }
    [struck] { $name }: NO RELEASE OF HIS, by PIN
   *[called] { $name }, called, NOT CONFIRMED
}
area-next = What goes on
area-next-set = Still to set: { $pieces }.
area-next-surface = Still to set: { $left }.
area-next-cover = Not yet covered by a lift: { $pieces }.
area-next-suspect = To be lifted or taken off: { $pieces }.
area-next-lifts = { $count ->
    [one] One more good lift before the area can be finished.
   *[other] { $count } more good lifts before the area can be finished.
}
area-next-open = { CAPITAL($point) }.
area-next-close = The last steps of the checklist, and the release of the area.
area-next-clock = { $clock } runs since { $since }.

# --- the other system of units
area-other-units = { $system ->
    [us] In inches: { $figures }.
   *[metric] In millimetres: { $figures }.
}
area-other-piece = piece { $size }
area-other-joint = joint { $joint }
area-other-notch = notch { $notch }
area-other-bed = bed { $at-least } to { $at-most }
area-other-void = void { $void }
area-other-surface = surface { $surface }
area-other-weight = { $weight } each
