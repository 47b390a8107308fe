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
doubt-not-complete = { $area }: { $count ->
    [one] lift { $lifts } proves
   *[other] lifts { $lifts } prove
} nothing, nobody read { $unread }
doubt-at-the-limit = { $area }: { $count ->
    [one] lift { $lifts } reaches
   *[other] lifts { $lifts } reach
} the { $required } required and no more, read by eye
doubt-by-the-setter = { $area }: { $count ->
    [one] lift { $lifts } was read by eye by the one who set the tile
   *[other] lifts { $lifts } were read by eye by the ones who set the tiles
}{ $photo ->
    [yes] ; { $count ->
        [one] there is a photo to read again
       *[other] there are photos to read again
    }
   *[no] ; no photo shows { $count ->
        [one] it
       *[other] them
    }
}
doubt-no-void = { $area }: no void was read in { $count ->
    [one] lift { $lifts }
   *[other] lifts { $lifts }
}; nothing requires it here, good practice stops at { $void }
doubt-not-timed = { $area }: { $count ->
    [one] tile { $tiles } was
   *[other] tiles { $tiles } were
} called in one breath, so nothing tells how long the mortar lay open
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
