# What the printed page of a mock-up trial says, beside what every telling of a trial says (trial.ftl).

# --- the head of the page

trialpage-title = Which notch and method works here
trialpage-about = Mock-up trial, { $site }, { $where }: { $product } { $size }, { $mortar }, { $surface }, { $place }.
trialpage-place-dry = dry
trialpage-place-wet = wet
trialpage-place-exterior = exterior
trialpage-surface-wall = for a wall
trialpage-surface-floor = for a floor
trialpage-counting = { $count } samples of { $planned }

# --- what follows from the verdict

trialpage-best = { $letter }: { $notch }, { $how }.
trialpage-next-tiles = Of the next ten tiles set as { $letter }, { $ten } would be read at { $required } or more: this mortar, these hands, these readers, this batch.
trialpage-next-ten-under-1-in-10 = hardly one
trialpage-next-ten-about-1-in-4 = 2 or 3
trialpage-next-ten-about-half = about 5
trialpage-next-ten-about-3-in-4 = about 7 or 8
trialpage-next-ten-9-in-10-or-better = 9 or more
trialpage-missed = With { $repeats } of each, { $low } against { $high } would be missed in about { $tenths ->
    [one] 1 trial
   *[other] { $tenths } trials
 } of ten.
trialpage-released = { $name } released { $letter } for { $areas }, { $time }.
trialpage-deputy = { $name }, deputy for { $whom },
trialpage-also-released = Also released
trialpage-released-why = Why: { $why }
trialpage-pin-unchecked = The signature was not checked.
trialpage-pin-not-good = THE SIGNATURE IS NOT GOOD: { $why }

# --- the table

trialpage-head-method = Rank, method
trialpage-head-method-unranked = Method
trialpage-head-section = Natural size: combed, pressed
trialpage-head-bed = Bed, { $unit }
trialpage-head-contact = Contact in %, wider near 100:
trialpage-head-contact-shown = { $claim ->
    [pictures] samples
   *[other] mean, 95 % interval, samples
    }
trialpage-head-chance = Next tile
trialpage-head-chance-passes = passes
trialpage-mean = { $mean } ({ $low } to { $high })
trialpage-not-read = not read
trialpage-not-eligible = shown, not eligible
trialpage-section-alt = Section at natural size: { $notch }, at { $angle }°, ridges { $high } high; pressed in, a bed of { $bed }.
trialpage-bed-alt = Bed: { $bed } by geometry{ $gauge ->
    [none] { "" }
   *[other] , { $gauge } by gauge or weight
 }; the mortar allows { $least } to { $greatest }.
trialpage-samples-alt = { $count ->
    [0] No sample was read.
    [one] One sample, in percent: { $samples }. Required: { $required }.
   *[other] { $count } samples, in percent: { $samples }. Required: { $required }.
 }
trialpage-measure = this line must measure { $long }
trialpage-moved-none = not moved
trialpage-moved-one-way = slid
trialpage-moved-there-and-back = to and fro
trialpage-moved-by = { $moved } { $slide }
trialpage-seated-by-hand = by hand
trialpage-seated-beaten = beaten in
trialpage-seated-vibrated = vibrated
trialpage-for = { $seated } { $seconds }
trialpage-family-square = square
trialpage-family-rectangular = rectangular
trialpage-family-U = U
trialpage-family-V = V
trialpage-family-slanted = slanted
trialpage-family-ridge-collapse = ridge-collapse
trialpage-family-half-round = half-round
trialpage-notch = { $family } { $sizes }{ $narrow ->
    [yes] , tooth { $tooth }
   *[no] { "" }
 }, { $sides ->
    [both] base and back
   *[one] base
 }
trialpage-back-keyed = back keyed
trialpage-back-bare = back bare
trialpage-effort = effort { $effort }
trialpage-effort-range = effort { $first } to { $last }

# --- under the table

trialpage-legend-required = Heavy line: required, { $required }.
trialpage-legend-ranks = “Next tile passes”: chance that it is read at that or more. Bracket: not told apart where all are compared with all.
trialpage-legend-bed = Bed: bar by geometry, ring by gauge or weight; hatched: outside the mortar’s limits.
trialpage-not-run = Not run: { $letters }, { $notch }: { $reason }.
trialpage-shown = Shown, not eligible: { $letters }, { $notch }: { $reason }.
trialpage-asked = Asked beforehand
trialpage-asked-mean = Points more or less: one shift of all samples on the log-odds scale, told at the level of the first of each pair; so it is not the plain mean of the differences behind it.
trialpage-order = Order and doubt
trialpage-order-drawn = { $counting } planned; { $methods } methods in rounds, order by lot.
trialpage-model = Log-odds scale, batch and the mortar’s age taken out; step-down test over all pairs, 5 % in all, { $df } degrees of freedom.
trialpage-readers = Who
trialpage-made-by = Samples called by { $names }.
trialpage-read-by = { $readers ->
    [one] { $names } read alone.
   *[other] { $names } read apart.
    }
trialpage-agreement = { $alike ->
    [yes] They read alike on average
   *[no] One reads { $mean } points higher than the other on average
 }; most apart: { $most } points.
trialpage-conditions = Conditions
trialpage-weather = Weather
trialpage-condition = { $what } { $reading }.
trialpage-mortar-used = { $batches ->
    [one] 1 batch
   *[other] { $batches } batches
 } of mortar, used within { $oldest } of { $pot }.
trialpage-spoiled = { $count ->
    [one] One sample of { $letters } spoiled before it was looked at, made again, kept in the record.
   *[other] { $count } samples of { $letters } spoiled before they were looked at, made again, kept in the record.
    }
trialpage-photo = { $letter }, sample { $number }
trialpage-other-units = { $system ->
    [us] In inches
   *[metric] In millimetres
 }: notches { $notches }; bed { $least } to { $greatest }; piece { $piece }.
trialpage-samples-follow = Each sample stands on the pages that follow.
trialpage-round = Round { $number }: { $letters }

# --- the list of samples

trialpage-samples-title = Every sample, as it was made
trialpage-samples-note = Order: its place in the drawn order; “again” repeats a spoiled one. A spoiled one was called so before it was looked at; it counts for nothing and stays in the record. Contact is the mean of its readers, rounded down.
trialpage-head-sample = sample
trialpage-head-place = order
trialpage-head-made = made
trialpage-head-batch = batch
trialpage-head-read = read apart
trialpage-head-mean = contact
trialpage-head-seen = seen
trialpage-made = { $time } { $name }
trialpage-repeat = again
trialpage-batch = { $batch }, { $age } old
trialpage-reading = { $corrected ->
    [yes] { $name } { $contact } (corrected)
   *[no] { $name } { $contact }
}
trialpage-counted = on the grid { $contact }
trialpage-on-photo = { $way ->
    [painted] painted on the photo
    [proposed] measured on the photo
   *[corrected] measured on the photo, put right by paint
} { $contact }, { $between }
trialpage-back-alt = Photo of the back of { $title }, squared up. { $seen }
trialpage-samples = { $count ->
    [one] sample { $numbers }
   *[other] samples { $numbers }
}
trialpage-void = largest void { $void }
trialpage-edges-full = edges full
trialpage-edges-not-full = EDGES NOT FULL
trialpage-bed-by-mass = { $bed } by weight
trialpage-spoiled-sample = spoiled: { $reason }
trialpage-order-title = The order, and how to draw it again
trialpage-redraw = The order was drawn from the record’s head as it stood before it: of 200 draws of complete rounds, seeded with SHA-256 of that head, the one in which the least is confounded with batch and age. “fieldassist verify” draws it again. Method after method would have made the last one look worse: mortar ages.
trialpage-drawn-from = { $count } samples from the head { $head }
