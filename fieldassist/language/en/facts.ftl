# The facts of a day, for other programs.

facts-no-day = This record opens no day, so there are no facts to tell.
facts-unsound = The events of this record do not follow from each other ({ $why }), so there are no facts to tell.
facts-not-set = no tile was set here yet

# What a limit is for, and what it asks for.
facts-limit-required-coverage = Contact
facts-limit-largest-void = Largest void
facts-limit-base-flatness = Gap of the base
facts-limit-base-flatness-short-span = Gap of the base, short span
facts-limit-lippage = Lippage
facts-limit-bed = Bed
facts-limit-working-temperature = Working temperature
facts-limit-slide = Stroke
facts-limit-water = Water
facts-limit-edges = Edges
facts-limit-strip = { $strip } free of voids along them
facts-limit-corners = Corners
facts-limit-supported = full
facts-limit-lifts = Good lifts
facts-limit-count = at least { $count }
facts-limit-lots = Lots
facts-limit-lots-m2 = one tile in { $surface }
facts-limit-lots-counted = { $unit ->
    [rows] { $count ->
        [one] one tile in a row
       *[other] one tile in { $count } rows
    }
   *[tiles] one tile in { $count }
}
facts-limit-computed-bed = Bed of a notch
facts-limit-by-bed = from the section of its ridges
facts-limit-computed-proof = What lots prove
facts-limit-by-proof = with 95 %, from good lots of all

# Where the time of a day is broken.
facts-restarted = the tablet was started anew, { $away } after the entry before; times across that follow its wall clock
facts-clock-set = { $way ->
    [back] the wall clock moved back by { $by }; clocks on this record ran on undisturbed
   *[forward] the wall clock moved on by { $by }; clocks on this record ran on undisturbed
}
facts-undone = { $was }
