# What is still open.
open-failure = { $area }: { $finding }, not cured
open-reading = { $area }: { $name }, { $reading }, read back and not answered
open-area = { $area }: not finished ({ BARE($ask) })
open-area-between = { $area }: not finished (between rounds)
open-not-started = { $area }: not started
