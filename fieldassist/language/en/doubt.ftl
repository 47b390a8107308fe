# What is no open point and may still be doubted, told to whoever accepts a day.

doubt-recovered = The log was damaged and put together again{ $lost ->
    [0] , as far as it could be read
    [one] : 1 event of it is not vouched for
   *[other] : { $lost } events of it are not vouched for
}
doubt-clock-set = The tablet's clock was set { $way ->
    [on] on by { $by }
   *[back] back by { $by }
}, at { $at }
doubt-day-before = What goes on here began on { $date }, and that day was { $signed ->
    [yes] signed and not sealed
   *[no] never signed
}
doubt-not-complete = { $area }: lift { $lift } proves nothing, nobody read { $unread }
doubt-not-timed = { $area }: { $count ->
    [one] tile { $tiles } was
   *[other] tiles { $tiles } were
} called in one breath, so nothing tells how long the mortar lay open
doubt-bags = { $area }: all is set, with { $bags } bags; { $verdict ->
    [less] that is less than the { $predicted } that the bed takes
   *[more] the bed takes { $predicted }
}{ $known ->
    [yes] ; if all of it lies behind the pieces, the bed is { $bed }
   *[no] { "" }
}
doubt-lifts = { $area }, { $count ->
    [one] lift { $lifts }
   *[other] lifts { $lifts }
}
doubt-range = { $first } to { $last }
doubt-at-the-limit = what is required was reached and no more, read by eye: { $places }
doubt-alone = read by eye by the setter alone; no photo to look at again: { $places }
doubt-alone-with-photo = read by eye by the setter alone; photos to look at again: { $places }
doubt-no-void = nothing requires it here, good practice stops at { $void }: { $places }
doubt-second-hand = { $count ->
    [one] The limit of { $limits } is
   *[other] The limits of { $limits } are
} known { $standing ->
    [memory] from memory only
   *[reported] second-hand, from trade literature
} ({ $documents }); the { $count ->
    [one] standard was
   *[other] standards were
} not at hand
doubt-undone = failed and no longer counts: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-was = { $where } ({ $was }{ $judged ->
    [yes] , judged as failed
   *[no] { "" }
}, { $how ->
    [corrected] corrected
   *[taken-back] taken back
} at { $at })
doubt-answer = “{ $label }”
doubt-step = { $area }, { $step }
doubt-correction = { $named ->
    [yes] { $where }: addendum
   *[no] addendum
} { $part } corrects entry { $entry }: “{ $text }” ({ $name })
doubt-not-judged = read below what is required and not judged: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-read-short = { $where } ({ $read }, { $required } required{ $count ->
    [0] { "" }
   *[other] , not read: { $unread }
})
doubt-photo-taken-back = { $count ->
    [one] a photo of a lift was
   *[other] photos of lifts were
} taken back: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-same-photo = the same photo stands beside more than one lift: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-larger = told as larger than the plan’s, so more surface counts as set: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-face = { $area }, piece { $tile } as { $face }, planned { $whole }
doubt-photo-less = { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-photo-more = { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-photo-bare = measured by colour as a bare back, where the method keys or combs the back: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-photo-size = the photo was squared up to another face than the piece's: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-photo-size-of = { $where } to { $squared }, the piece has { $face }
doubt-photo-again = measured on photos more than once, the last one counts: { $places }{ $more ->
    [0] { "" }
   *[other] ; and { $more } more
}
doubt-photo-each-time = { $where } { $count } times, { $figures }
doubt-photo-says = { $where } { $verdict ->
    [passed] passed
   *[failed] failed
} { $way ->
    [grid] on the grid
    [photo] on an earlier measuring
   *[eye] by eye
}{ $known ->
    [yes] {" "}with { $read }
   *[no] { "" }
}; its photo says { $contact }, { $low } to { $high }
doubt-photo-shows = { $where } passed{ $known ->
    [yes] {" "}with a void of { $read }
   *[no] { "" }
}; its photo shows one of { $void }, { $allowed } allowed
doubt-alone-painted = voids painted on the photo by the setter alone; others can look at it: { $places }
doubt-reckoned = measured on the photo, which was checked on computed pictures only, not on real lifts: { $places }
doubt-swirls = the photo shows ridges in swirls, which lock air in: { $places }
