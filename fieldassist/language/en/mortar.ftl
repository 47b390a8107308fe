# Bags, water, batches, the bed that a mortar allows.

mortar-caution-skin = Wet cement burns, and the burn may not hurt at first: alkali-resistant gloves, boots and goggles; wash with clean cool water; change soaked clothes; a burn is for a doctor.
mortar-caution-dust = Dry powder holds silica: empty the bag slowly, mix where the air moves away from people or with extraction, roll the empty bag up without shaking it, never sweep dry.
mortar-caution-electricity = Mixer and cord in the wet: a ground-fault circuit interrupter (30 mA residual-current device or a 110 V supply elsewhere); repairs are for a licensed electrician.

mortar-bed-too-thin = a bed of { $pair-read } is below the least this mortar allows, { $pair-limit }
mortar-bed-too-thick = a bed of { $pair-read } is above the most this mortar allows, { $pair-limit }
mortar-bed-within = a bed of { $pair-read } is within the mortar's limits
mortar-bed-limits-cross = the least bed { $least } is above the greatest { $greatest }; read the sheet again

mortar-water-too-much = water { $pair-read } is more than the { $pair-limit } this batch may take: throw the batch away, powder added later does not mend it
mortar-water-too-little = water { $pair-read } is less than the { $pair-limit } this batch needs: add up to it before the slake
mortar-water-right = water { $pair-read } is right
mortar-water-limits-cross = the least water per bag is above the most; read the data sheet again

mortar-slake-takes-pot-life = the slake of { $slake } leaves nothing of a pot life of { $pot-life }
mortar-batch-would-stiffen = even { $part } of a bag is too much for one batch: it would stiffen before it is used; mix by weight in smaller parts or add a setter
mortar-batch-over-bucket = even { $part } of a bag is too much for one batch: the bucket is too small for it

mortar-balance-too-little = the bags give { $bed } of mortar (± { $tolerance }) where { $predicted } was predicted: too little is behind the tile; lift more, and check notch, trowel angle and bag count
mortar-balance-too-little-reach = { mortar-balance-too-little }; over the measured gap this can reach { $contact } contact at most
mortar-balance-more = the bags give { $bed } of mortar (± { $tolerance }) where { $predicted } was predicted: the bed is thicker, or more was wasted; check the bed against the mortar's limit
mortar-balance-more-reach = { mortar-balance-more }; over the measured gap this can reach { $contact } contact at most
mortar-balance-as-predicted = the bags give { $bed } of mortar (± { $tolerance }), as predicted ({ $predicted }) within the tolerance
mortar-balance-as-predicted-reach = { mortar-balance-as-predicted }; over the measured gap this can reach { $contact } contact at most

# -- as computations by name
# Titles and summaries.
mortar-title-bed-limits = the least and the greatest bed a mortar allows
mortar-summary-bed-limits = After embedding. The data sheet goes before the general figures.
mortar-title-bed-verdict = whether a bed lies within the mortar's limits
mortar-summary-bed-verdict = Exactly at a limit is within.
mortar-title-bag-yield = mixed mortar from one bag
mortar-summary-bag-yield = The data sheet's own figure is best; without it a common figure is used and its span shown.
mortar-title-bags = bags, powder and water for an area
mortar-summary-bags = From the bed, the bag's yield and the waste.
mortar-title-batches = how to split the mixing so that each batch is used up in its pot life
mortar-summary-batches = The fewest equal batches at the crew's own pace.
mortar-title-water = whether the water in a batch keeps to the data sheet
mortar-summary-water = Too much cannot be mended; too little can, before the slake.
mortar-title-mass-balance = what the bags that were used say about the mortar behind the tile
mortar-summary-mass-balance = Bags against area and predicted bed, with a tolerance that says when the difference means something. Too few bags mean too little mortar, whatever the lifts say.

# What is asked for.
mortar-in-mortar = kind of mortar, which sets the bed it allows
mortar-in-least-bed = least bed on the data sheet, in place of the general one
mortar-in-greatest-bed = greatest bed on the data sheet
mortar-in-bed-bed-verdict = the bed after embedding
mortar-in-bag-mass = powder in a bag
mortar-in-bag-yield-bag-yield = mixed mortar from a bag, on the data sheet
mortar-in-powder = dry powder in a litre of mortar, your own figure
mortar-in-area = the area to set
mortar-in-bed = mortar per area, as a depth: 1 mm is 1 L/m² (see `bed`), the tile's back profile included
mortar-in-bag-yield-bags = mixed mortar from a bag, on the data sheet; a common figure is used without it
mortar-in-powder-bags = or dry powder in a litre of mortar, your own figure
mortar-in-water-per-bag = water for one bag, on the data sheet
mortar-in-waste = mortar lost, as a share of what ends up behind the tile
mortar-in-bag-yield = mixed mortar from one bag, from its data sheet
mortar-in-pot-life = pot life on the data sheet, from mixing
mortar-in-pace = what the crew sets
mortar-in-slake = rest before the second mixing
mortar-in-part-of-bag = smallest part of a bag that you weigh out
mortar-in-bucket = most that can be mixed at once
mortar-in-water = water in this batch
mortar-in-bags-water = bags in this batch, parts allowed
mortar-in-least-per-bag = least water for one bag, on the data sheet
mortar-in-greatest-per-bag = most water for one bag, on the data sheet
mortar-in-bags = bags used, parts counted
mortar-in-area-mass-balance = the area set
mortar-in-predicted-bed = mortar per area that the notch should have left (see `bed`)
mortar-in-gap = gap between tile and base, measured
mortar-in-bags-uncertainty = how well the bags are counted, in bags
mortar-in-yield-uncertainty = how well the yield is known
mortar-in-area-uncertainty = how well the area is known
mortar-in-waste-uncertainty = how well the waste is known, in points

# What is told.
mortar-out-least-bed = least bed
mortar-out-greatest-bed = greatest bed
mortar-out-bed = bed
mortar-out-mixed-mortar-from-a-bag = mixed mortar from a bag
mortar-out-at-least = at least
mortar-out-at-most = at most
mortar-out-mixed-mortar = mixed mortar
mortar-out-powder = powder
mortar-out-water = water
mortar-out-bags-exactly = bags, exactly
mortar-out-bags-to-bring = bags to bring
mortar-out-powder-per-area = powder per area
mortar-out-yield-of-a-bag = yield of a bag
mortar-out-batches = batches
mortar-out-bags-per-batch = bags per batch
mortar-out-area-per-batch = area per batch
mortar-out-time-per-batch = time per batch
mortar-out-least-water-in-this-batch = least water in this batch
mortar-out-most-water-in-this-batch = most water in this batch
mortar-out-implied-bed = implied bed
mortar-out-predicted-bed = predicted bed
mortar-out-difference = difference
mortar-out-tolerance-plus-or-minus = tolerance, plus or minus
mortar-out-mortar = mortar
mortar-out-greatest-contact = greatest contact
mortar-word-too-thin = too thin
mortar-word-within = within
mortar-word-too-thick = too thick
mortar-word-too-little = too little
mortar-word-as-predicted = as predicted
mortar-word-more-than-predicted = more than predicted
