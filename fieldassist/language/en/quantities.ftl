# Numbers and units as they are read.

quantities-unknown-unit = '{ $unit }' is not a unit used here; allowed: { $allowed }
quantities-other-dimension = { $from-unit } and { $to-unit } measure different things; what fits { $from-unit }: { $fits }
quantities-not-finite = { $value } { $unit } is not a measurement; give a finite number
quantities-unknown-system = '{ $system }' is not a system of units; allowed: as given, metric, us
quantities-number-too-long = a number of { $characters } characters is not a measurement; write fewer digits
quantities-divides-by-zero = '{ $text }' divides by zero; write a fraction such as 3/8
quantities-fraction-over-one = '{ $text }': after whole inches the fraction is below one, as in 1-3/8 in
quantities-nothing = nothing was given; write a number with its unit, such as 12.5 mm or 1/2 in
quantities-comma = '{ $text }' has a comma, which could mean thousands or decimals; write 1200 or 12.5 instead
quantities-below-zero = '{ $text }' is below zero; only a temperature may be, give a positive number
quantities-twelve-inches = '{ $text }' has twelve inches or more after the feet, which is another foot
quantities-not-a-quantity = '{ $text }' is not a quantity; write a number and a unit, such as 12.5 mm or 1/2 in
quantities-no-unit = '{ $text }' has no unit; write it as in '{ $number } mm' or '{ $number } in'
quantities-two-numbers = '{ $text }' holds more than one number; write one, such as 1-3/8 in
quantities-not-a-size = '{ $text }' is not a size; write two lengths, such as 1200 x 2400 mm or 24 x 48 in
quantities-size-no-length = '{ $text }': a size is two lengths, and { $unit } measures something else
quantities-size-zero = '{ $text }': both sides of a size are longer than zero
quantities-marks = a tape has 1, 2, 4, 8, 16, 32 or 64 marks to the inch, not { $marks }
quantities-not-on-a-tape = { $value } in is not a length on a tape; give a finite number from zero up

# Limits that contradict themselves.
quantities-limit-open = a limit has one end at least; give the least or the greatest figure
quantities-limit-crossed = the least figure { $least } is above the greatest { $greatest }
quantities-limit-no-end = this limit has no such end

# -- as computations by name
# Titles and summaries.
quantities-title-convert = a quantity in another unit, exactly
quantities-summary-convert = Length, area, mass, volume, time, temperature and percent, between metric and US units. Without `to` it goes to the unit in which the other system shows it.
quantities-title-fraction = the nearest fraction on a tape, and how far off it is
quantities-summary-fraction = Finds the nearest mark of an inch tape and says by how much it misses, so that nobody takes 0.0886 in for 3/32 in.
quantities-title-size = a tile's size in both systems, and its area
quantities-summary-size = Reads two sides as they are written on a carton.
quantities-title-compare = a reading beside its limit, told apart
quantities-summary-compare = Says whether a reading is below, above or exactly at a limit, whatever the units, and writes both with as many decimals as it takes to see the difference.

# What is asked for.
quantities-in-value = a number with its unit
quantities-in-to = the unit wanted
quantities-in-length = the length to be read off a tape
quantities-in-marks = marks to the inch: 1, 2, 4, 8, 16, 32 or 64
quantities-in-size = the two sides
quantities-in-reading = what was measured
quantities-in-limit = what it is held against

# What is told.
quantities-out-converted = converted
quantities-out-exactly = exactly
quantities-out-as-a-screen-shows-it = as a screen shows it
quantities-out-in-the-unit-used-inside = in the unit used inside
quantities-out-what-it-measures = what it measures
quantities-out-on-the-tape = on the tape
quantities-out-that-is = that is
quantities-out-off-by = off by
quantities-out-off-by-metric = off by, metric
quantities-out-metric = metric
quantities-out-us = US
quantities-out-area = area
quantities-out-reading = reading
quantities-out-limit = limit
quantities-out-the-reading-is = the reading is
quantities-beside-reading = { $pair-read }
quantities-beside-limit = { $pair-limit }
quantities-below = below
quantities-above = above
quantities-equal = equal
