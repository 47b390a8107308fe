# A rehearsal: what its script says wrongly, what is played, and what came otherwise than it expects.

# --- the script

rehearse-no-time = “{ $given }” begins with no time; write 07:30:00 NAME: what is said, or expect and what is expected, or # before a remark
rehearse-no-such-time = { $given } is no time of a day; write hours, minutes and seconds as 07:30:00
rehearse-backwards = { $given } comes before { $last }, and time only goes on; put the lines in order
rehearse-nobody-says = nobody says “{ $given }”; write the name and a colon before what is said, as in rosa: next tile
rehearse-nobody-called = nobody of the crew is called “{ $given }”; the plan has { $names }
rehearse-whenever = “{ $given }” is not what somebody says; write: whenever a lift is due, rosa: tile lifted; coverage ninety seven percent!
rehearse-row = “{ $given }” is no row of phrases; write: for each sample, rosa: next sample; combed straight; sample set; otto: otto reads 84 %
rehearse-fill = “{ $given }” fills nothing in; write a name and its values, as in for A: rosa 91, 88, 90; otto 86, 84, 88
rehearse-no-such-letter = no combination of the plan is called { $letter }; there are { $letters }
rehearse-not-filled = { $letter } says nothing for “{ $name }”, which stands in the row of each sample
rehearse-filled-for-nothing = “{ $name }” stands nowhere in the row of each sample; write it there in braces, or leave it out of { $letter }
rehearse-samples-without-row = nothing says what is said of a sample; write for each sample, NAME: ..., and for A: ... with what it fills in
rehearse-no-words = { $name } says nothing; write after the colon what is said
rehearse-nothing-said = nothing is said in it; write lines such as 07:30:00 rosa: start area hall
rehearse-long-line = the line has more than { $most } letters; a phrase is shorter
rehearse-no-line-before = “{ $given }” is expected of the phrase in the line before, and there is none; put it, without a time, behind a phrase
rehearse-no-such-area = no area of the plan is called “{ $given }”; did you mean “{ $near }”?
rehearse-expects-nothing = “{ $given }” is nothing that can be expected; write for instance “hall floor finished”, “tile 7 of hall floor suspect”, “lift 2 of hall floor failed”, “open area-between”, “no open points”, “refused”, “signed”, “at most 110 utterances”, “at most 1200 words”, of a trial “C, A, B in sample boards” or “A better than B in sample boards”, or “areas[hall floor].set_m2 at least 17”

# --- the folder

rehearse-no-folder = { $folder } is a file; name a folder for --out, or one that is not there yet.
rehearse-folder-taken = { $folder } holds something else than an earlier rehearsal, and nothing was written; name another folder for --out.

# --- what is played

rehearse-line = { $at } { $name }: { $words } = { $fate }
rehearse-answer = {"         "}-> { $said }
rehearse-answer-short = {"         "}-> { $said } (spoken: { $spoken })
rehearse-answer-sound = {"         "}-> { $said } (a sound)
rehearse-speaker = { $at } ({ $name } is made the speaker: { $said })
rehearse-asked = {"         "}-> asked now: { $ask }
rehearse-lift-due = {"         "}(a lift is due, line { $line })
rehearse-no-end-of-lifts = {"         "}(after { $most } lifts in a row still another is due; the script goes on)
rehearse-open-points = { $count ->
    [0] Nothing is open.
    [one] 1 point is open:
   *[other] { $count } points are open:
}
rehearse-open-point = {"  "}{ $code }: { $text }
rehearse-clock = { $at } (clock) { $said }
rehearse-fate = { $fate ->
    [taken] understood
    [refused] REFUSED
    [asked] asked back
   *[not-understood] not understood
}
rehearse-fate-why = { $fate ->
    [taken] understood ({ $why })
    [refused] REFUSED ({ $why })
    [asked] asked back ({ $why })
   *[not-understood] not understood ({ $why })
}
rehearse-no-pin-for-that = That takes no PIN. A hold point is released by PIN (base released by pin), and what was called out in a name is confirmed (confirmed by pin) or struck out (strike base released by pin).
rehearse-measure = a measured back is written: measure as skim-coated corners 12%,8% 90%,9% 91%,92% 11%,93% painted FILE; or as bare, with mortar 20%,30% 50%,40% 70%,60% bare 30%,30% 60%,50% 80%,70% after the corners
rehearse-nothing-to-measure = There is no photo of a lifted tile or a sample of the area at hand. Lift the tile and take its photo first.
rehearse-held = {"         "}expected, and so it is: { $words }
rehearse-missed = { $file }, line { $line }: expected { $words }, but { $why }.
rehearse-came = { $came ->
    [taken] it was taken
    [refused] it was refused
    [asked] it was asked back
   *[not-understood] it was not understood
}
rehearse-said = what was said back has only the codes { $codes }
rehearse-counted-more = { $what ->
    [utterances] the crew spoke { $count } times
   *[words] the tablet spoke { $count } words
}
rehearse-no-row = { $letter ->
    [batch] a batch is due and nothing says what is said of one (whenever a batch is due, NAME: ...)
   *[other] nothing more is said of { $letter }: give each name one value, or as many as there are samples of { $letter }
}
rehearse-row-unfinished = what is said of a sample of { $letter } ends before it: { $ask }
rehearse-row-made-nothing = { $letter ->
    [batch] what is said of a batch began none; asked now: { $ask }
   *[other] what is said of { $letter } made no sample; asked now: { $ask }
}
rehearse-trial-found = there it is { $found }
rehearse-found = { $path } is { $found }
rehearse-nothing-there = nothing at all
rehearse-open = open are { $codes }
