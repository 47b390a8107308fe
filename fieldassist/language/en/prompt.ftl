# What is asked, and what stands on the keys.
prompt-ask-and-say = { $ask } Say '{ $phrase }'.
prompt-ask-photo-or = { $ask } Take the photo on the tablet, or say '{ $phrase }'.
    .ear = { $ask } Or say '{ $phrase }'.
prompt-no-photo = No photo: { $photo }
prompt-no-reading = Not measured: { $reading }
prompt-bucket = Bucket { $bucket }
prompt-into-bucket = { $section }, bucket { $bucket }
prompt-other-reason = Another reason
prompt-ask-photo = { $ask } Take the photo on the tablet.
    .ear = { $ask }
prompt-role-first = { $ask } { $who }
prompt-release = Release: { $what }
prompt-release-by = { PERSON($name) } releases: { $what }
prompt-release-by-whom = { $role ->
    [foreman] { $ask } Foreman: say '{ $phrase }', or give the PIN on the tablet.
    [owner] { $ask } Owner: say '{ $phrase }', or give the PIN on the tablet.
   *[installer] { $ask } Installer: say '{ $phrase }', or give the PIN on the tablet.
}
    .ear = { $role ->
        [foreman] { $ask } Foreman: '{ $phrase }', or PIN.
        [owner] { $ask } Owner: '{ $phrase }', or PIN.
       *[installer] { $ask } Installer: '{ $phrase }', or PIN.
    }
prompt-quoted = '{ $phrase }'
prompt-say = Say { $ways }.
prompt-nothing-now = Nothing can be begun here now.
prompt-open-day = Open the day with its plan.
prompt-signed = { $part ->
    [0] The day was signed by { PERSON($name) } and is { $sealed ->
        [yes] sealed
       *[no] not sealed yet
    }.
   *[other] Addendum { $part } was signed by { PERSON($name) } and is { $sealed ->
        [yes] sealed
       *[no] not sealed yet
    }.
}
prompt-who-speaks = Who speaks?
prompt-start-area = Say '{ $phrase }' and its name: { $names }.
prompt-caution = Caution. { $caution } Say '{ $phrase }'.
prompt-cautions-again = After the break, again: { $caution } Say '{ $phrase }'.
prompt-next-area = Start the next area, or sign off.
prompt-did-you-say = Did you say '{ $words }'? Yes or no?
    .ear = Did you say '{ $words }'?
prompt-did-you-say-name = Did you say '{ $words }': { $name }? Yes or no?
    .ear = Did you say '{ $words }': { $name }?
prompt-yes = Yes
prompt-no = No
prompt-understood = Understood
prompt-what-now = What now
prompt-repeat = Repeat
prompt-how-long = How long
prompt-quiet = Quiet
prompt-talk = Talk to me
prompt-short = { $asks ->
    [yes] { $name }?
   *[no] { $name }.
}
prompt-take-back = Take back
prompt-start = Start { $area }
prompt-person = { PERSON($name) }
prompt-dust-starts = Dust starts
prompt-dust-starts-with = Dust starts: { $task }
prompt-dust-ends = Dust ends
prompt-weather = Weather { $weather }
prompt-weather-word = { $word ->
    [sunny] sunny
    [cloudy] cloudy
    [overcast] overcast
    [rain] rain
    [snow] snow
    [windy] windy
    [foggy] foggy
    [indoors] indoors
   *[other] { $word }
}
prompt-method = Method { $method }
prompt-notch = Notch of { $method }
prompt-method-word = { PERSON($name) } stands for: { $what }
prompt-setter = { PERSON($name) } sets
prompt-sign-off = Sign off
prompt-sign-off-open = Sign off with open points
prompt-note = Note
prompt-lift-this = Lift this one
prompt-lift-due = Tile { $tile } to be lifted
prompt-lift-tile = Lift a tile
prompt-inspector-this = Inspector asks for this one
prompt-inspector-tile = Inspector asks for a tile
prompt-accept-suspects = Accept the suspects
prompt-accept-tile = Accept a tile
prompt-accepted = { $count ->
    [one] Tile accepted
   *[other] Tiles accepted
}
prompt-take-off = Tile taken off
prompt-tile-off = Tile { $tile } taken off
prompt-lots = Lift one in …
prompt-place = Next place
prompt-row = Row { $row }
prompt-piece = Next piece: { $name }
prompt-cut = Cut
prompt-finish-area = Finish area
prompt-correct = { $lift ->
    [0] Correct { $name }: { $was }
   *[other] Correct { $name } of lift { $lift }: { $was }
}
prompt-answer = Answer an open point
prompt-spread = Spread
prompt-spread-for = Spread for so many
prompt-tiles-in = Tiles in
prompt-tile-in = Tile in
prompt-how-many = How many
prompt-spread-open = { $left ->
    [0] Set them, then say how many are in: '{ $phrase }'.
   *[other] { $done } in, { $left } to go.
}
