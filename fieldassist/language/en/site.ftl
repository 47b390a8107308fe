# The day's page, what is entered of sites, areas, crew and mortars, the list of days, and the tour of practice.
site-date = { $weekday ->
    [mon] Monday
    [tue] Tuesday
    [wed] Wednesday
    [thu] Thursday
    [fri] Friday
    [sat] Saturday
    [sun] Sunday
   *[none] { "" }
} { $day } { $month ->
    [jan] January
    [feb] February
    [mar] March
    [apr] April
    [may] May
    [jun] June
    [jul] July
    [aug] August
    [sep] September
    [oct] October
    [nov] November
    [dec] December
   *[none] { "" }
}
site-first-start = Plan a site, or practise first
site-drawn = drawn 1 : { $scale }
site-area-waits = { $pieces ->
    [one] not begun, 1 piece
   *[other] not begun, { $pieces } pieces
}
site-area-closed = closed, { $done } of { $of }
site-area-under-way = { $failed ->
    [0] { $suspect ->
        [0] { $done } of { $of }
       *[other] { $done } of { $of } · { $suspect } suspect
    }
   *[other] { $suspect ->
        [0] { $done } of { $of } · { $failed } failed
       *[other] { $done } of { $of } · { $suspect } suspect
    }
}
site-person = { $role ->
    [foreman] { $sets ->
        [yes] foreman, sets
       *[no] foreman
    }
    [owner] owner
   *[installer] { $sets ->
        [yes] sets
       *[no] installer
    }
}
site-next = { $what ->
    [start] Begin: { CAPITAL($area) }
    [go-on] Go on: { CAPITAL($area) }
    [sign] Sign the day
   *[signed] Signed
}
site-new-area = New area
site-see-wall = See the wall
site-change = Change
site-opening = The day opens
site-go-on-site = Go on today: { $site }
site-other-days = Other days
site-new-person = New person
site-new-site = New site
site-practice = Practice,
    2 minutes
site-weather = Weather
site-what-weather = What is the weather?
site-more-areas = { $count } more areas
site-mortars = Mortars
site-who-works = Who works?
site-more-sites = { $count } more planned
site-lay-out = Lay out

# --- what is entered
site-plan-site = Plan a site
site-change-area = { $area ->
    [none] New area
   *[other] { CAPITAL($area) }
}
site-change-person = { $name ->
    [none] New person
   *[other] { PERSON($name) }
}
site-crew = Crew
site-areas = Areas
site-field = { $field ->
    [site] Site
    [address] Address
    [owner] Owner
    [name] Name
    [role] Role
    [area] Name of the area
    [where] Where it is
    [checklist] Checklist
    [length] Piece: long side
    [width] Piece: short side
    [thickness] Piece: thickness
    [across] Wall: width
    [up] Wall: height
    [joint] Joint
    [notch] Trowel
    [mortar] Mortar
    [mortar-name] Name on the bag
    [mortar-kind] Kind
    [open-time] Open time
    [pot-life] Pot life
    [slake] Slake
    [marking] Marking
    [least-bed] Least bed
    [greatest-bed] Greatest bed
    [coldest] Coldest
    [hottest] Hottest
    [bag] Bag
    [bag-yield] Yield of a bag
   *[water] Water for a bag
}
site-option = { $option ->
    [installer] installer
    [foreman] foreman
    [owner] owner
    [thin-set] thin-set
   *[large-and-heavy-tile] large and heavy tile
}
site-notch = { $family ->
    [square] square { $width }
    [rectangular] { $width } x { $depth }
    [u] U { $width } x { $depth }
    [v] V { $width }
    [slanted] slanted { $width } x { $depth }
    [ridge-collapse] ridge-collapse { $width } x { $depth }
   *[half-round] half-round { $width }
}
site-lacks = { $what ->
    [crew] { $field ->
        [crew] Somebody has to work there: add the crew.
       *[other] One of the crew has no name yet.
    }
    [areas] { $field ->
        [areas] Nothing is planned yet: add an area.
        [name] An area has no name yet.
        [where] Where the area is is not said yet.
        [checklist] An area has no checklist yet.
        [mortar] An area has no mortar yet.
        [size] How wide and high the wall is is not said yet.
       *[other] What the piece measures is not said yet.
    }
    [site] The site has no name yet.
   *[other] The data sheet is not whole: name, open time and pot life are needed.
}
site-begin-day = Begin the day
site-other-date = The plan: { $planned }. The clock: { $today }.
site-take-today = Take { $today }
site-plan-area = Plan this area
site-add-person = Add to the crew
site-keep = Done
site-take-out = Take out
site-keep-mortar = Keep this mortar
site-new-mortar = New mortar
site-no-mortar = No mortar is kept yet
site-mortar = { $open } open · { $pot } pot life
site-to-be-said = needed
site-no-name = no name yet
site-not-drawn = Drawn once piece and wall are known
site-not-kept = It could not be kept: { $why }
site-left-open = not given

# --- the list of days
site-days = Days
site-days-none = No day here yet
site-days-not-found = No day fits
site-days-read = Looking through the days
site-day-line = { $state ->
    [open] { $kind ->
        [practice] practice, open
        [rehearsal] rehearsal, open
       *[work] open
    }
    [signed] signed, not sealed yet
    [sealed] { $kind ->
        [practice] practice, sealed
        [rehearsal] rehearsal, sealed
       *[work] sealed
    }
   *[unreadable] cannot be read
}
site-day-areas = { $finished } of { $of } areas closed
site-day-failed = { $failures ->
    [0] nothing failed
   *[other] { $failed ->
        [0] { $failures } failed, cured
       *[other] { $failed } failed and open
    }
}
site-day-unreadable = { $file } cannot be read here. Save what is whole of it at a computer.
site-planned = planned, not begun
site-search = Search
site-search-what = Site, area, person or date
site-only-failures = Failures
site-any-area = All areas
site-any-person = All people
site-open-this = Open this day
site-go-on-from = Go on from here today
site-more-days = Further
site-earlier-days = Back

# --- practice
site-tour = { $step ->
    [spread] Spread mortar for one piece
    [in] Set it, then say it is in
    [lift] Lift it: how much is covered?
    [back] Take the last step back
   *[over] That was all. Now plan your own site
}
site-tour-at = { $number } of { $of }: { $step }
site-tour-go = Go on with the tour
site-tour-leave = Leave practice
