# What is still open.
open-failure = { $area }: { $finding }, not cured
open-release-called = { $deputy ->
    [no] { $area }: { $hold }, called in the name of { PERSON($name) } (event { $release }), not confirmed
   *[other] { $area }: { $hold }, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) } (event { $release }), not confirmed
}
open-release-struck = { $deputy ->
    [no] { $area }: { $hold }, called in the name of { PERSON($name) } (event { $release }), struck out by { PERSON($name) }
   *[other] { $area }: { $hold }, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) } (event { $release }), struck out by { PERSON($name) }
}
open-reading = { $area }: { $name }, { $reading }, read back and not answered
open-called-late = { $area }: { $clock } called { $minutes } late by { PERSON($name) }: { $reason }
open-went-on-early = { $area }: gone on { $minutes } before { $clock } was over, by { PERSON($name) }: { $reason }
open-area = { $area }: not finished ({ BARE($ask) })
open-area-between = { $area }: not finished (between rounds)
open-not-started = { $area }: not started
