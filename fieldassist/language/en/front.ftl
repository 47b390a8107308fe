# Page one: thirty seconds.

# --- who answers

front-answers-title = Who answers for it
front-answers-signed = { $name }, { $role }, signed { $finger ->
    [yes] with finger and PIN
   *[no] with a PIN
} at { $at }, { $open ->
    [0] with no point open
    [one] with one point open
   *[other] with { $open } points open
}.
front-answers-addenda = { $count ->
    [one] Addendum { $number } came after that and added to these pages or changed them. It was
   *[other] { $count } addenda came after that and added to these pages or changed them. The last, addendum { $number }, was
} signed by { $name }, { $role }, at { $at }, { $open ->
    [0] with no point open
    [one] with one point open
   *[other] with { $open } points open
}.
front-answers-key = { $part ->
    [0] The key
   *[other] The key of { $name }’s seal on addendum { $part }
}{ $good ->
    [yes] , to be compared with the one that was given to you:
   *[no] :
}
front-answers-nobody = NOT SIGNED: nobody answers for this day yet, and it may still change.
front-answers-not-sealed = NOT SEALED: no key answers for this day.
front-answers-unfit = THE SEAL{ $part ->
    [0] { "" }
   *[other] {" "}OF ADDENDUM { $part }
} DOES NOT FIT: do not rely on these pages until that is clear. { $why }
front-answers-warning = LOOK INTO the seal: { $warning }
front-answers-pins = { $count ->
    [one] One release by PIN DOES NOT FIT its key.
   *[other] { $count } releases by PIN DO NOT FIT their keys.
}
front-answers-addendum = Addendum { $number } is { $signed ->
    [yes] NOT SEALED
   *[no] NEITHER SIGNED NOR SEALED
}: no key answers for what it added to these pages or changed on them.
front-answers-later = { $count ->
    [one] NOT SEALED: one event was entered after the last seal, and no key answers for it.
   *[other] NOT SEALED: { $count } events were entered after the last seal, and no key answers for them.
}
front-answers-code = The code holds date{ $key ->
    [yes] , head of the record and key
   *[no] {" "}and head of the record
}, in plain words. How to check:
front-code = fieldassist day { $date } head { $head }{ $key ->
    [none] { "" }
   *[other] {" "}key { $key }
}

# --- the head of the page

front-date = Daily log, { $date }
front-address = { $address }.
front-owner = For { $owner }.
front-set-by = Set by { $names }.
front-foreman = { $count ->
    [one] Foreman: { $names }.
   *[other] Foremen: { $names }.
}

# --- the sentence of verdict

front-number-0 = no
front-number-1 = one
front-number-2 = two
front-number-3 = three
front-number-4 = four
front-number-5 = five
front-number-6 = six
front-number-7 = seven
front-number-8 = eight
front-number-9 = nine
front-number-10 = ten
front-number-11 = eleven
front-number-12 = twelve
front-open-failures = OPEN: { $count ->
    [one] one failure
   *[other] { $number } failures
}{ $named ->
    [yes] {" "}in { $areas }.
   *[no] .
}
front-no-work-practice = A day of practice: this proves nothing.
front-no-work-rehearsal = A rehearsal: this proves nothing.
front-nothing = { $count ->
    [one] Nothing was set: { $name } was not started.
   *[other] Nothing was set: none of { $number } areas was started.
}
front-finished-all = { $count ->
    [one] { CAPITAL($name) } is finished.
   *[other] All { $areas } areas are finished.
}
front-finished-some = { $count ->
    [one] { CAPITAL($finished) } of { $areas } areas is finished.
   *[other] { CAPITAL($finished) } of { $areas } areas are finished.
}
front-finished-none = { $count ->
    [one] { CAPITAL($name) } is not finished.
   *[other] None of { $areas } areas is finished.
}
front-reach-all = { $tiles ->
    [one] Its tile lies
   *[other] { $areas ->
        [one] Every tile in it lies
       *[other] Every tile in them lies
    }
} within reach of a good lift{ $accepted ->
    [0] .
   *[other] , except { $number }, which the foreman accepted in words.
}
front-reach-some = { $tiles ->
    [one] { $reached ->
        [0] The one tile that is set lies within reach of no good lift
       *[other] The one tile that is set lies within reach of a good lift
    }
   *[other] { $reached } of { $tiles } tiles that are set lie within reach of a good lift
}{ $accepted ->
    [0] .
   *[other] ; { $accepted } more the foreman accepted in words.
}
front-trial = In { $area } { $methods ->
    [one] 1 method was
   *[other] { $methods } methods were
} tried, { $made } of { $planned } samples made.
front-goes-on = { CAPITAL($area) } goes on: { $done } set.
front-go-on = { CAPITAL($number) } areas go on.
front-not-started = { $count ->
    [one] { CAPITAL($areas) } was not started.
   *[other] { CAPITAL($areas) } were not started.
}
front-many-not-started = { CAPITAL($number) } areas were not started.
front-not-signed = Nobody has signed yet.
front-reopened = { $count ->
    [one] One addendum
   *[other] { CAPITAL($number) } addenda
} came after the signature{ $corrected ->
    [0] { "" }
    [one] {" "}and corrected one entry
   *[other] {" "}and corrected { $corrected } entries
}.
front-points = { $count ->
    [0] Nothing is open, and nothing was found to doubt.
    [one] One point is yours to judge before you accept.
   *[other] { CAPITAL($number) } points are yours to judge before you accept.
}

# --- a row an area

front-areas = Areas
front-column-area = Area
front-column-set = Set, of planned
front-column-required = Contact required
front-column-worst = Worst that stands
front-column-mean = Mean
front-column-lifts = Lifts good
front-column-reach = In reach of a good lift
front-column-released = Released
front-area = { CAPITAL($area) }
front-area-numbered = { $number } { CAPITAL($area) }
front-where = { $named ->
    [yes] { $where },{" "}
   *[no] { "" }
}{ $place ->
    [dry] dry
    [wet] wet
   *[exterior] exterior
}
front-set = { $done } of { $planned } { $unit }
front-samples = { $made } of { $planned } samples
front-required = { $percent }{ $sign ->
    [yes] †
   *[no] { "" }
}
front-dagger = † known second-hand: the standard itself was not seen. Source:
front-of = { $part } of { $whole }
front-reach-note = { $state ->
    [lifted-failed] { $count } FAILED
    [not-judged] { $count } not judged
    [suspect] { $count } SUSPECT
    [accepted] { $count } ACCEPTED
   *[not-yet-covered] { $count } not yet
}
front-area-not-started = not started
front-no-release = not asked for
front-not-released = not released
front-no-method = no method yet
front-released = { $name } { $at }
front-how-struck = STRUCK OUT
front-how-pin = by PIN
front-how-called = NOT CONFIRMED
front-how-confirmed = called, PIN { $at }
front-how-confirmed-before = called, PIN later
front-how-method = method { $letters }
front-more-named = { $count } more
front-more-areas = { $count ->
    [one] and 1 more area
   *[other] and { $count } more areas
}{ $failed ->
    [0] { "" }
    [one] , one with an open failure
   *[other] , { $failed } with an open failure
}{ $named ->
    [0] {" "}without anything open
   *[other] ; open in { $areas }
}:

# --- the chart

front-chart = Every lift of the day against what its area requires
front-chart-note = contact in percent{ $sure ->
    [yes] ; the line through a sign: its interval
   *[no] { "" }
}
front-chart-counted = how many lifts, by contact in percent
front-bar-failed = { $count } failed
front-bar-open = { $count } not judged
front-chart-row-area = area
front-chart-row-lift = lift
front-chart-row-time = time
front-panel = { $required ->
    [none] { CAPITAL($area) }
   *[other] { CAPITAL($area) }: required { $required }
}
front-panel-areas = { $areas ->
    [one] 1 area
   *[other] { $areas } areas
}{ $required ->
    [none] { "" }
   *[other] : required { $required }
}
front-key-bar-good = good
front-key-bar-failed = failed
front-key-bar-open = not judged
front-key-good = good, counted or measured
front-key-eye = good, read by eye
front-key-failed = failed
front-key-open = not judged
front-chart-alt = Every lift of the day against what its area requires. { $areas }
front-chart-area = { CAPITAL($area) }{ $required ->
    [none] { "" }
   *[other] , required { $required }
}: { $count ->
    [one] 1 lift
   *[other] { $count } lifts
}, { $good } good{ $worst ->
    [none] { "" }
   *[other] ; worst that stands { $worst }
}{ $mean ->
    [none] { "" }
   *[other] , mean { $mean }
}{ $told ->
    [0] .
   *[other] . { $lifts }.
}
front-chart-lift = Lift { $lift }, { $piece }, { $at }: { $percent }{ $sure ->
    [yes] {" "}({ $between })
   *[no] { "" }
}, { $verdict ->
    [passed] good
    [failed] failed
   *[other] not judged
}{ $eye ->
    [yes] , read by eye
   *[no] { "" }
}

# --- what to look at

front-points-title = Look at these before you accept
front-all = All { $what }
front-all-points = points
front-all-failures = failures
front-all-areas = areas
front-lead-open-failure = OPEN: failure.
front-lead-open-unproven = OPEN: without proof.
front-lead-open-contradiction = OPEN: does not agree.
front-lead-open-unanswered = OPEN: waits for an answer.
front-lead-unproven = Without proof.
front-lead-contradiction = Does not agree.
front-lead-failure = Failure.
front-lead-unanswered = Answered in words.
front-lead-doubt-recovered = Damaged.
front-lead-doubt-clock-set = Clock.
front-lead-doubt-day-before = The day before.
front-lead-doubt-not-complete = Not complete.
front-lead-doubt-at-the-limit = At the limit.
front-lead-doubt-alone = By one eye alone.
front-lead-doubt-alone-with-photo = By one eye alone.
front-lead-doubt-no-void = No void read.
front-lead-doubt-not-timed = Not timed.
front-lead-doubt-bags = Bags.
front-lead-doubt-undone = Failed and taken back.
front-lead-doubt-correction = Corrected since.
front-lead-doubt-not-judged = Not judged.
front-lead-doubt-photo-taken-back = Photo taken back.
front-lead-doubt-same-photo = One photo, several lifts.
front-lead-doubt-larger = Larger than planned.
front-lead-doubt-photo-more = Its photo says more.
front-lead-doubt-alone-painted = By one hand alone.
front-lead-doubt-reckoned = Measured on the photo.
front-lead-doubt-swirls = Swirls.
front-lead-limit = † Limit.
front-lead-unfinished = Not finished.
front-point = { CAPITAL($point) }.{ $asks ->
    [yes] {" "}Not answered.
   *[no] { "" }
}
front-count-open = { $count } open
front-count-answered = { $count } answered by the foreman
front-count-doubt = { $count ->
    [one] 1 doubt
   *[other] { $count } doubts
}
front-no-points = No point is open, and nothing was found to doubt.
front-more-points = { $count ->
    [one] and 1 more
   *[other] and { $count } more
}: { $kinds }.
front-kind-failure = { $count ->
    [one] 1 open failure
   *[other] { $count } open failures
}
front-kind-unproven = { $count } without proof
front-kind-contradiction = { $count ->
    [one] 1 that does not agree
   *[other] { $count } that do not agree
}
front-kind-unanswered = { $count ->
    [one] 1 that waits for an answer
   *[other] { $count } that wait for an answer
}
front-kind-doubt = { $count ->
    [one] 1 doubt
   *[other] { $count } doubts
}
front-kind-limit = { $count ->
    [one] 1 limit
   *[other] { $count } limits
}
front-kind-unfinished = { $count ->
    [one] 1 area that goes on or was not started
   *[other] { $count } areas that go on or were not started
}

# --- what failed

front-failures-title = What failed, and what cured it
front-none-failed = { $count ->
    [0] Nothing failed.
    [one] No failure stands; look at point { $points }.
   *[other] No failure stands; look at points { $points }.
}
front-earlier = earlier
front-found = { $found }{ $named ->
    [yes] {" "}({ $place })
   *[no] { "" }
}
front-found-lift = { $piece }: { $percent }, required { $required }{ $also ->
    [0] { "" }
   *[other] ; { $others }
}
front-short-coverage-void-too-large = void
front-short-coverage-void-near-edge = edge
front-short-coverage-corner-unsupported = corner
front-not-cured = NOT CURED. Asked for: { $asks }
front-cured-lift = { $done }; lift { $lift }: { $percent }
front-cured-done = { $done }: done
front-cured = { $done }; { $shown }
front-more-failures = { $count ->
    [one] and 1 more
   *[other] and { $count } more
}, { $open ->
    [0] all cured
   *[other] { $open } NOT CURED
}:
