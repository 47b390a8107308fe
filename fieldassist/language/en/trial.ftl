# What a mock-up trial says: its verdict, what was asked beforehand, its doubts.

# --- verdict

trial-nothing-read = Nothing was read yet.
trial-pictures = One sample of each is a picture and a reading: nothing can be ranked.
trial-highest = The highest reading: { $letter }, { $mean }.
trial-best = Best: { $letter }, { $mean } { $range }.
trial-best-so-far = Best so far: { $letter }, { $mean } { $range }.
trial-not-apart = { $letters } cannot be told apart from { $letter }.
trial-worse = { $count ->
    [one] { $letters } is worse beyond noise (wrong about one trial in twenty).
   *[other] { $letters } are worse beyond noise (wrong about one trial in twenty).
    }
trial-no-rank = Not enough samples to rank.
trial-interval = ({ $low } to { $high })
trial-no-interval = (no interval)
trial-tie = { $letters }: no difference found.
trial-more-needed = { $count } more of each of { $letters } would tell them apart in four trials of five.
trial-too-close = { $letters } are so close that over 20 more of each would be needed.
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
trial-asks-mortar = { $other } in place of { $one }
trial-gain-more = { $asked }: { $points ->
    [one] 1 point
   *[other] { $points } points
 } more ({ $low } to { $high }), over { $pairs ->
    [one] 1 pair
   *[other] { $pairs } pairs
 }.
trial-gain-less = { $asked }: { $points ->
    [one] 1 point
   *[other] { $points } points
 } less ({ $low } to { $high }), over { $pairs ->
    [one] 1 pair
   *[other] { $pairs } pairs
 }.
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
