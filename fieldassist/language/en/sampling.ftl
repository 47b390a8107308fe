# What lifted tiles prove.

sampling-too-many-samples = that claim takes { $samples } samples or more; ask for a smaller share or less confidence
sampling-more-good-than-all = { $good } good of { $samples } samples cannot be; count again
sampling-too-many-failures = { $bad } bad of { $lot } is what should be found out, so { $failures } bad ones cannot be allowed; allow fewer
sampling-more-than-the-lot = { $samples } samples of { $lot } tiles cannot be drawn; inspect every tile
sampling-failures-over-claim = of { $lot } tiles { $bad } may be bad, so { $failures } bad lifts cannot be allowed; allow fewer
sampling-lot-beyond-table = a lot of { $lot } is beyond the rows held here ({ $most }); split it, or look in the table
sampling-level-not-held = an AQL of { $level } is not held here; take one of { $levels }

sampling-lifts-all-good = { $lifts ->
    [one] { $lifts } lift, all good, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
   *[other] { $lifts } lifts, all good, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
}
sampling-lifts-some-bad = { $lifts ->
    [one] { $lifts } lift, at most { $failures } of them bad, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
   *[other] { $lifts } lifts, at most { $failures } of them bad, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
}
sampling-lifts-all-good-of-lot = { $lifts ->
    [one] { $lifts } lift of { $lot } tiles, all good, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
   *[other] { $lifts } lifts of { $lot } tiles, all good, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
}
sampling-lifts-some-bad-of-lot = { $lifts ->
    [one] { $lifts } lift of { $lot } tiles, at most { $failures } of them bad, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
   *[other] { $lifts } lifts of { $lot } tiles, at most { $failures } of them bad, to claim with { $confidence } confidence that at least { $share } of the tiles are good.
}
sampling-lifts-show = { $good } of { $lifted } lifts good. Had they been drawn at random, they would show with { $confidence } confidence that at least { $least-share } of the tiles are good, no more.
sampling-lifts-show-of-lot = { $good } of { $lifted } lifts good. Had they been drawn at random, they would show with { $confidence } confidence that at least { $least } of the { $lot } tiles ({ $least-share }) are good, no more.
sampling-whole-area = { $good } of { $lot } tiles good, and every tile was lifted: that is the whole area.
sampling-nothing-left-to-chance = Nothing is left to chance when every tile is lifted.

# -- lifts by lot
sampling-lots-lifted = { $lifted ->
    [one] 1 lift
   *[other] { $lifted } lifts
}, { $tiles } { $tiles ->
    [one] tile
   *[other] tiles
} set: { $drawn } by lot after setting, { $forced ->
    [0] {""}
   *[other] { $forced } because the row without a lift had become too long ({ $forced-bad } bad),{" "}
}{ $chosen } chosen{ $chosen-bad ->
    [0] {""}
   *[other] {" "}({ $chosen-bad } bad)
}.
sampling-lots-show = Of those by lot, { $good } good: with { $confidence } confidence at least { $least-share } of the tiles under the lot are good; no more is proven.
sampling-lots-as-set = { $bad } by lot { $bad ->
    [one] was
   *[other] were
} bad: the figure speaks of the work as it was set, not as it was left.
sampling-lots-none = Nothing was lifted by lot: nothing is proven about the tiles that were not lifted.
sampling-lots-known-places = Lifts at known places show what the setter does when he knows: nothing is proven about the other tiles.
sampling-lots-row = Longest row that nobody looked under: { $row ->
    [one] { $row } tile
   *[other] { $row } tiles
} ({ $face }): a bad stretch that long may be there.
sampling-lots-covered = Covered means a good lift before and behind. It does not mean looked at.

# -- as computations by name
# Titles and summaries.
sampling-title-lifts-needed = how many lifts it takes to claim that a share of the tiles is good
sampling-summary-lifts-needed = Had they been drawn at random; lifts of fresh tile are chosen, so the figure guides and does not prove.
sampling-title-lifts-prove = what a number of lifts would prove, in plain words
sampling-summary-lifts-prove = One-sided, exact, rounded down. Three good lifts, the least a standard asks for, prove very little.
sampling-title-lots-prove = what lifts prove that were drawn by lot after setting
sampling-summary-lots-prove = Only lifts by lot carry a bound; forced and chosen ones never do.
sampling-title-share-limits = exact limits for the share of good tiles, from a sample
sampling-summary-share-limits = Clopper and Pearson's limits, two-sided or one-sided.
sampling-title-success-run = how many good ones in a row show a share, in both forms in use
sampling-summary-success-run = The classical form and the (n+1) form differ by one: say which you mean.
sampling-title-sample-size = samples that show a share when a few of them may be bad
sampling-summary-sample-size = For a large area; exact binomial.
sampling-title-lot-sample = how many of a counted lot to draw to find out when a share of it is bad
sampling-summary-lot-sample = Exact hypergeometric: from a small lot it takes fewer.
sampling-title-least-good-in-lot = the least number of good tiles that a draw from a counted area leaves open
sampling-summary-least-good-in-lot = One-sided, exact hypergeometric.
sampling-title-acceptance-plan = a published acceptance plan: how many to inspect, how many bad ones to accept
sampling-summary-acceptance-plan = Single sampling, normal inspection, level II. It is meant for a run of lots with switching rules, not for one isolated area.
sampling-title-acceptance-chance = the chance that a plan accepts, at a given share of bad ones
sampling-summary-acceptance-chance = Binomial, or hypergeometric when the lot is counted.

# What is asked for.
sampling-in-confidence = how sure you want to be
sampling-in-share = share of good tiles that is claimed
sampling-in-failures = bad lifts that may be among them
sampling-in-lot = how many tiles the area has, those lifted included
sampling-in-good = good lifts
sampling-in-lifted = all lifts
sampling-in-drawn-good = good lifts by lot
sampling-in-drawn-bad = bad lifts by lot
sampling-in-forced-good = good lifts forced by the cap
sampling-in-forced-bad = bad lifts forced by the cap
sampling-in-chosen-good = good lifts that were chosen, asked for or followed a failure
sampling-in-chosen-bad = bad lifts that were chosen, asked for or followed a failure
sampling-in-tiles = tiles set
sampling-in-row = longest row of tiles that nobody looked under
sampling-in-row-area = its area
sampling-in-good-share-limits = good ones in the sample
sampling-in-lifted-share-limits = size of the sample
sampling-in-side = two-sided, or one limit only
sampling-in-form = which form
sampling-in-lifted-success-run = good lifts that you have, to see what they show
sampling-in-failures-sample-size = bad ones that may be among them
sampling-in-lot-lot-sample = how many tiles the area has
sampling-in-bad-share = share of bad ones to find out
sampling-in-failures-lot-sample = bad ones that may be among those drawn
sampling-in-good-least-good-in-lot = good ones drawn
sampling-in-lifted-least-good-in-lot = all drawn
sampling-in-lot-acceptance-plan = tiles in the lot, 2 to 3200
sampling-in-quality-level = acceptable quality level: 0.65, 1, 1.5, 2.5, 4, 6.5 %
sampling-in-sample = tiles inspected
sampling-in-accept = bad ones that are accepted
sampling-in-bad-share-acceptance-chance = share of bad ones in truth

# What is told.
sampling-out-lifts = lifts
sampling-out-bad-ones-allowed-among-them = bad ones allowed among them
sampling-out-least-share-of-good-tiles = least share of good tiles
sampling-out-confidence = confidence
sampling-out-at-least = at least
sampling-out-at-most = at most
sampling-out-lifts-all-good = lifts, all good
sampling-out-samples = samples
sampling-out-good-tiles-at-least = good tiles at least
sampling-out-of-tiles = of tiles
sampling-out-code-letter = code letter
sampling-out-tiles-to-inspect = tiles to inspect
sampling-out-accept-with-bad-ones-up-to = accept with bad ones up to
sampling-out-reject-from-bad-ones = reject from bad ones
sampling-out-that-is-every-tile = that is every tile
sampling-out-an-arrow-of-the-table-was-followed = an arrow of the table was followed
sampling-out-chance-of-acceptance = chance of acceptance
sampling-out-share-shown = share shown by { $lifts } good lifts
