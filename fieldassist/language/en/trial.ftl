# What is said of mock-up trials: what is tried, which sample is made, what is released.

# --- what is tried
trial-combination = { $notch }, { $sides ->
    [both] both sides
   *[one] one side
}{ $back ->
    [keyed] {", back keyed"}
   *[bare] {""}
}, { $movement }, { $seating }{ $mortar ->
    [none] {""}
   *[other] {", "}{ $mortar }
}
trial-by-so-much = { $what }, { $much }
trial-begun = { $samples ->
    [one] One sample is to be made
   *[other] { $samples } samples are to be made
}: { $combinations ->
    [one] one combination
   *[other] { $combinations } combinations
}, { $repeats ->
    [one] once each
   *[other] { $repeats } times each
}, in an order by lot: mortar ages, and hands tire.
trial-ruled-out = { $shown ->
    [yes] { $letter } is only shown, and cannot win ({ $combination }): { $reasons }.
   *[no] { $letter } is not mixed ({ $combination }): { $reasons }.
}
    .ear = { $shown ->
    [yes] { $letter } is only shown, and cannot win.
   *[no] { $letter } is not mixed: { $reasons }.
}

# --- samples
trial-ask = { $again ->
    [yes] Sample { $number }, made again
   *[no] Sample { $number } of { $planned }
}: { $letter }, { $combination }. { $ask }
trial-ask-so = Here: { $how }. { $ask }
trial-ask-reader = How much does { PERSON($name) } read? Say '{ $phrase }' and the figure.
    .ear = How much does { PERSON($name) } read?
trial-spoiled-what = Sample spoiled
trial-spoiled = Sample { $number } of { $letter } is spoiled. It stays in the record, and { $letter } is made again at the end.
trial-spoiled-reason-piece-slipped = the piece slipped
trial-spoiled-reason-mortar-skinned = the mortar had skinned
trial-spoiled-reason-ridges-broke = the ridges broke
trial-spoiled-reason-somebody-touched-it = somebody touched it
trial-fell-away = { $clock } ran out before it was done
trial-more = { $samples ->
    [one] One more sample
   *[other] { $samples } more samples
} of { $letters }.
trial-released = { $letter } is released for { $areas } by { PERSON($name) }.
trial-samples-missing = { $samples ->
    [one] One sample that was planned is not made
   *[other] { $samples } samples that were planned are not made
}: { $letters }.

# --- refusals
trial-unfit-checklist = { $which ->
    [with] { $area } has no trial, and { $checklist } is a checklist of trials: write a "trial" into the plan, or choose another checklist.
   *[without] { $area } has a trial, and { $checklist } makes no samples: choose { $tries }.
}
trial-order-unfit = The drawn order does not hold each combination as often as it is to be made: start the area again.
trial-none-here = Nothing is tried in { $area }: samples are made in an area with a trial.
trial-no-such-letter = No combination { $letter } is run here: { $letters }.
trial-all-made = All samples of { $area } are made. See the ranking, make more of some, or say 'finish area'.
trial-not-drawn = The order of the samples of { $area } was not drawn: start the area on a tablet that keeps its record.
trial-other-mortar = { $letter } takes { $mortar }: say '{ $phrase }' first.
trial-no-sample = No sample is being made in { $area }.
trial-seen-already = Sample { $number } was looked at: it counts. Make a note of what went wrong.
trial-nothing-seen = No sample of { $letter } was read yet: nothing can be released.
trial-release-by-pin = A method is released by the foreman's PIN, on the tablet or with 'fieldassist trial release'. { $who }
trial-why-not-best = { $letter } is not the best so far ({ $best }): give the reason why it is released.
trial-not-eligible = { $letter } was only shown and cannot be released: { $reasons }.

# --- verdict

trial-nothing-read = Nothing was read yet.
trial-pictures = One sample of each is a picture and a reading: nothing can be ranked.
trial-highest = The highest reading: { $letter }, { $mean }.
trial-best = Best: { $letter }, { $mean } { $range }.
trial-best-so-far = Best so far: { $letter }, { $mean } { $range }.
trial-not-apart = { $letters } cannot be told apart from { $letter }.
trial-worse = { $count ->
    [one] { $letters } is out of the running for the best (wrong about one trial in twenty).
   *[other] { $letters } are out of the running for the best (wrong about one trial in twenty).
    }
trial-no-rank = Not enough samples to rank.
trial-interval = ({ $low } to { $high })
trial-no-interval = (no interval)
trial-tie = { $letters }: no difference found.
trial-more-needed = { $count } more of each of { $letters } would show a difference like 90 against 95 percent between them in four trials of five.
trial-too-close = Over 20 more of each of { $letters } would be needed to show a difference like 90 against 95 percent between them.
trial-differs = { $better } is { $points ->
    [one] 1 point
   *[other] { $points } points
 } better than { $worse }, beyond noise.
trial-differs-not = { $better } and { $worse }: no difference found.
trial-as-read = { $readers ->
    [one] As one reader read it, in this mortar, with these hands; how far off one pair of eyes is, the trial cannot see.
   *[other] As these readers read it, in this mortar, with these hands; an error that both share the trial cannot see.
    }
trial-wide = The samples spread more than is usual: the intervals may be too narrow.

# --- the chance that the next tile meets what is required

trial-chance-under-1-in-10 = under 1 in 10
trial-chance-about-1-in-4 = about 1 in 4
trial-chance-about-half = about half
trial-chance-about-3-in-4 = about 3 in 4
trial-chance-9-in-10-or-better = 9 in 10 or better

# --- what was asked beforehand

trial-asks-letters = { $other } against { $one }
trial-asks-part = { $other } in place of { $one }
trial-asks-mortar = { $other ->
    [none] the plan's own mortar
   *[other] { $other }
} in place of { $one ->
    [none] the plan's own mortar
   *[other] { $one }
}
trial-gain-more = { $asked }: { $points ->
    [one] 1 point
   *[other] { $points } points
 } more ({ $low } to { $high }), over { $pairs ->
    [one] 1 pair
   *[other] { $pairs } pairs: { $each }
 }.
trial-gain-less = { $asked }: { $points ->
    [one] 1 point
   *[other] { $points } points
 } less ({ $low } to { $high }), over { $pairs ->
    [one] 1 pair
   *[other] { $pairs } pairs: { $each }
 }.
trial-gain-pair = { $one } to { $other } { $points }
trial-gain-none = { $asked }: no gain found ({ $low } to { $high } points).
trial-gain-unclaimed = { $asked }: too few samples to say.
trial-sides-one = combed on the base only
trial-sides-both = combed on base and back
trial-back-keyed = back keyed
trial-back-bare = back bare
trial-movement-none = not moved
trial-movement-one-way = moved one way
trial-movement-there-and-back = moved there and back
trial-seating-by-hand = pressed by hand
trial-seating-beaten = beaten in
trial-seating-vibrated = vibrated

# --- what it takes, and what it will be able to tell

trial-needs-pieces = { $samples ->
    [one] One sample
   *[other] { $samples } samples
} of { $face }{ $what ->
    [sheets] {" "}under clear sheets
   *[pieces] {""}
}: { $base } of base.
trial-needs-mortar = { $mortar }: { $volume } mixed out of { $powder } of powder{ $bags ->
    [none] {""}
    [one] {" (one bag)"}
   *[other] {" ("}{ $bags } bags)
}, in { $batches ->
    [one] one batch
   *[other] { $batches } batches
} for { $samples ->
    [one] one sample
   *[other] { $samples } samples
}.
trial-needs-mortar-unknown = { $mortar }: { $batches ->
    [one] one batch
   *[other] { $batches } batches
} for { $samples ->
    [one] one sample
   *[other] { $samples } samples
}; how much a notch leaves cannot be reckoned: try it first.
trial-needs-smaller-batches = { $samples ->
    [one] One sample
   *[other] { $samples } samples
} out of one batch of { $mortar } take { $takes }, and it lasts { $lasts }: plan fewer for one batch.
trial-needs-time = About { $minutes } for one who sets.
trial-assumed-own-piece = Each sample has { $what ->
    [sheet] a sheet
   *[piece] a piece
} of its own; one that is washed at once may be used again.
trial-assumed-waste = { $waste } more is mixed, for what stays in the bucket and on the trowel (common practice, no published source).
trial-assumed-minutes = A sample takes { $sample } from combing to scraping, a batch { $mixing } to mix, and its slake (common practice, no published source).
trial-hope-asked = Asked beforehand ({ $asked })
trial-hope-all = Any two of { $combinations } combinations
trial-hope = { $asked }, { $repeats ->
    [one] one sample
   *[other] { $repeats } samples
} of each: { $seen }.
trial-hope-difference = { $low } against { $high } is found { $tenths ->
    [0] hardly ever
    [10] nearly always
    [one] in about one trial of ten
   *[other] in about { $tenths } trials of ten
}{ $repeats ->
    [more] {" (more than 20 of each make it eight)"}
   *[other] {" ("}{ $repeats } of each make it eight)
}
trial-hope-none = { $asked }: with { $repeats ->
    [one] one sample
   *[other] { $repeats } samples
} of each nothing will be claimed. { $least ->
    [more] More than 20 of each
   *[other] { $least } of each
} would show 85 % against 95 % in eight trials of ten.
trial-hope-nothing = Asked beforehand ({ $asked }): nothing to compare; a combination that it needs is not run.

# --- a lift of a released method beside its trial

trial-lift-beside = { $how ->
    [below] { $contact } is below what single tiles of { $letter } were in the mock-up of { $date } ({ $least } to { $most }); one lift alone proves nothing yet. Its mean was { $mean }
    [above] { $contact } is above what single tiles of { $letter } were in the mock-up of { $date } ({ $least } to { $most }). Its mean was { $mean }
   *[among] { $contact } is among what single tiles of { $letter } were in the mock-up of { $date } ({ $least } to { $most }). Its mean was { $mean }
}{ $spanned ->
    [yes] {" ("}{ $low } to { $high })
   *[no] {""}
}.

# --- what the readers' eyes are worth

trial-readers-agree = { $pairs } samples read by both: { PERSON($higher) } reads { $mean ->
    [0] as high as
    [one] 1 point higher than
   *[other] { $mean } points higher than
} { PERSON($lower) } on average; 95 of 100 times they lie no more than { $apart } points apart. Most apart: { $largest } points, at sample { $sample }. What both misread alike, this does not show.
trial-reader-off = { PERSON($reader) }, beside { $pairs } { $beside ->
    [painted] whose voids were painted on photos
    [measured] that were reckoned from photos
   *[counted] that were counted
}: { $how ->
    [as] no more than half a point off
    [high] about { $points ->
        [one] 1 point
       *[other] { $points } points
    } too high
   *[low] about { $points ->
        [one] 1 point
       *[other] { $points } points
    } too low
} at { $level } (between { $least } and { $most } points).
