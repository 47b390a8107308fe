# What a reading must reach, and why it does not.
limit-at-least = at least { $at-least }
limit-at-most = at most { $at-most }
limit-between = at least { $at-least } and at most { $at-most }
limit-over = { $pair-read } is over { $pair-limit }
limit-under = { $pair-read } is under { $pair-limit }
