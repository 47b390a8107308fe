# The clocks of mortar, and temperatures.

times-touch = Touch the combed mortar: when the finger comes away clean, scrape it off and comb fresh mortar. Never wet it again.
times-too-cold = { $pair-read } is too cold: the mortar needs { $pair-limit } or more; warm the room and the base, then measure again
times-too-hot = { $pair-read } is too hot: the mortar bears { $pair-limit } at most; shade the base or wait, then measure again
times-temperature-right = { $pair-read } is within the limits
times-no-temperature = the temperature is not a number; read the thermometer again
times-temperatures-cross = the least temperature { $least } is not below the greatest { $greatest }

times-class-without-e = { $marking } without E promises no open time; take it from the data sheet
times-no-class = '{ $marking }' is not a class marking; write it as on the bag, such as C2TE S1 or A118.15HTE
times-no-pot-life = no standard gives a pot life; take it from the mortar's data sheet
times-no-open-time = neither data sheet nor class marking gives an open time; read it from the bag
times-share-of-open-time = a share of { $share } of the open time cannot be; give one above 0 and up to 1
times-clock-below-zero = the clock '{ $clock }' shows a time below zero; neither the time gone by nor the time allowed can be

times-too-cold-to-cure = at { $temperature } the rule of thumb does not hold: below { $least } cement mortar may not cure at all; warm the room and follow the data sheet
times-cure-stands = at { $temperature } the data sheet's time stands; do not shorten it for warmth
times-cure-longer = at { $temperature } the rules of thumb give { $least } to { $greatest } instead of { $usual }; they conflict, so wait the longer and test a tile at the edge first

# -- as computations by name
# Titles and summaries.
times-title-slake = how long the mixed mortar rests before it is mixed again
times-summary-slake = No more water afterwards. The bag rules.
times-title-pot-life = how long the mixed mortar stays usable in the pail
times-summary-pot-life = No standard gives one: only the data sheet knows.
times-title-open-time = how long combed mortar may wait for the tile
times-summary-open-time = The data sheet's figure, otherwise what the class marking promises in a laboratory without wind or sun.
times-title-open-time-area = the largest area to comb before open time runs out
times-summary-open-time-area = At the crew's own pace of combing and setting together, or of each by itself.
times-title-clocks = running clocks, the most urgent first
times-summary-clocks = A clock at its limit is over: mortar at its limit is at its end.
times-title-cure = the wait before grout or light traffic, longer in the cold
times-summary-cure = The data sheet's time, otherwise a common one. In the cold the rules of thumb conflict: the figures are a caution, and warmth never shortens the wait.
times-title-concrete-age = how long new concrete still has to wait for tile
times-summary-concrete-age = Counted from the day of the pour.
times-title-working-temperature = the temperatures in which mortar may be worked, and whether today's allows it
times-summary-working-temperature = Of the air or the surface, whichever is worse. The data sheet goes first.

# What is asked for.
times-in-data-sheet = the time on the data sheet, which goes first
times-in-data-sheet-pot-life = pot life on the data sheet
times-in-data-sheet-open-time = open time on the data sheet
times-in-mortar-class = class marking on the bag
times-in-open-time = open time of the mortar here
times-in-pace = what the crew combs and sets (or sets, when the next is given)
times-in-combing-pace = pace of combing alone
times-in-share-used = share of the open time to use; less in sun, wind and heat
times-in-piece = the two sides of a piece, to count whole ones
times-in-clocks = each clock with its name, the time gone by and the time allowed
times-in-until = what is waited for
times-in-data-sheet-cure = the time on the data sheet
times-in-temperature-cure = temperature of the base
times-in-days = age of the concrete in days
times-in-least-days = age it must reach, in days
times-in-temperature = what the thermometer shows
times-in-practice = US or European practice
times-in-least = least on the data sheet; an end it lacks is common practice
times-in-greatest = greatest on the data sheet

# What is told.
times-out-slake-at-least = slake, at least
times-out-slake-up-to = slake, up to
times-out-pot-life = pot life
times-out-open-time = open time
times-out-the-sign-that-decides = the sign that decides
times-out-largest-area-to-comb-at-once = largest area to comb at once
times-out-whole-pieces-in-it = whole pieces in it
times-out-open-time-used = open time used
times-out-at-normal-temperature = at normal temperature
times-out-by-the-milder-rule = by the milder rule
times-out-plan-with = plan with
times-out-still-to-wait = still to wait
times-out-coldest = coldest
times-out-hottest = hottest
times-out-times-longer-by = times longer by the { $rule } rule
times-out-clock-left = { $clock }, left
times-out-clock-up = { $clock }, time is up
times-out-promised-by-the-class = promised by the class
times-out-wait = wait
times-out-open-time-at-least = open time, at least
times-out-open-time-up-to = open time, up to
times-out-wait-at-least = wait, at least
times-out-wait-up-to = wait, up to
times-out-slake = slake
times-out-pot-life-at-least = pot life, at least
times-out-pot-life-up-to = pot life, up to
times-out-still-to-wait-at-least = still to wait, at least
times-out-still-to-wait-up-to = still to wait, up to
