# What is still open.
open-failure = { $area }: { $finding }, not cured
open-release-called = { $deputy ->
    [no] { $area }: { $hold }, called in the name of { PERSON($name) } ({ $day ->
        [earlier] on an earlier day
       *[today] event { $release }
    }), not confirmed
   *[other] { $area }: { $hold }, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) } ({ $day ->
        [earlier] on an earlier day
       *[today] event { $release }
    }), not confirmed
}
open-release-struck = { $deputy ->
    [no] { $area }: { $hold }, called in the name of { PERSON($name) } ({ $day ->
        [earlier] on an earlier day
       *[today] event { $release }
    }), struck out by { PERSON($name) }
   *[other] { $area }: { $hold }, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) } ({ $day ->
        [earlier] on an earlier day
       *[today] event { $release }
    }), struck out by { PERSON($name) }
}
open-method-doubted = { $area }: { $method } cannot do by the reckoning: { $reasons }
open-method-vouched = { $area }: { PERSON($name) } stands for { $method } ({ $word }), no good lift of it yet
open-dust-runs = { PERSON($name) }: { $task } runs since { $since } and has not ended; its minutes are in no sum
open-reading = { $area }: { $name }, { $reading }, read back and not answered
open-called-late = { $area }: { $clock } called { $minutes } late by { PERSON($name) }: { $reason }
open-went-on-early = { $area }: gone on { $minutes } before { $clock } was over, by { PERSON($name) }: { $reason }
open-lower-than-promised = { $area }: lower than the mock-up promised, by more than noise: { $contact } over { $lifts } lifts on { $days } days, where { $letter } of { $date } had { $mean }{ $spanned ->
    [yes] {" ("}{ $low } to { $high })
   *[no] {""}
}
open-lift-left = { $area }: tile { $tile }, due { $came }, was not lifted: { BARE($reason) }
open-lift-waits = { $area }: tile { $tile } is to be lifted
open-not-put-back = { $area }: tile { $tile } was lifted and is not put back
open-due-waits = { $area }: { $section } is due
open-lot-missed = { $area }: tile { $tile } was drawn and not looked under
open-suspects = { $area }: { $count ->
    [one] tile { $tiles } is suspect
   *[other] tiles { $tiles } are suspect
}
open-tiles-accepted = { $area }: { $count ->
    [one] tile { $tiles } accepted
   *[other] tiles { $tiles } accepted
} by { PERSON($name) }: { BARE($words) }
open-lots-unrevealed = the lots committed in event { $event } were never revealed: the tablet that drew them was not the one that signed
open-area = { $area }: not finished ({ BARE($ask) })
open-area-between = { $area }: not finished (between rounds)
open-not-started = { $area }: not started
open-answered = { $spoken ->
    [yes] { $point }. { PERSON($name) } answered at { $at }, kept as sound: “{ $answer }”
   *[no] { $point }. { PERSON($name) } answered at { $at }: “{ $answer }”
}
open-ready-looked-again = looked again, it is as read
open-ready-goes-on = goes on tomorrow
open-ready-fewer-pieces = fewer pieces than planned
open-ready-counted-again = counted again, it is as told
open-ready-clock-wrong = the clock was wrong
# --- what contradicts itself
open-date-differs = the plan is dated { $planned }, the tablet's clock says { $clock }
open-surface-set = { $way ->
    [over] { $area }: { $set } set in { $pieces } pieces, more than the { $planned } planned
   *[short] { $area }: { $set } set in { $pieces } pieces, of { $planned } planned
}
open-sample-void = { $area }: sample { $sample } of { $letter }, { $percent } covered leaves { $uncovered } bare, and its largest void is { $void }
open-percent-no-void = { $area }: lift { $lift }, { $percent } covered and no void at all
open-void-over-uncovered = { $area }: lift { $lift }, { $percent } covered leaves { $uncovered } bare, and the largest void is { $void }
open-voids-too-many = { $area }: lift { $lift }, { $percent } and a largest void of { $void } would take { $voids } such voids
open-longer-than-passed = { $area }: { $name }, { $reading } called when { $passed } had passed
open-too-fast = { $count ->
    [one] { $area }: tile { $tiles } set by { PERSON($name) } in { $shortest }; { $least } is the least that hands need
   *[other] { $area }: tiles { $tiles } set by { PERSON($name) } faster than hands can, the quickest in { $shortest }; { $least } is the least that hands need
}
open-remedy-not-shown = { $count ->
    [one] { $area }: “{ $remedy }” was chosen after a failure, and tile { $tiles } was set without it
   *[other] { $area }: “{ $remedy }” was chosen after a failure, and tiles { $tiles } were set without it
}
open-bags = { $verdict ->
    [less] { $area }: { $bags } bags used, less than the { $predicted } that the bed takes
   *[more] { $area }: { $bags } bags used, more than the { $predicted } that the bed takes
}
