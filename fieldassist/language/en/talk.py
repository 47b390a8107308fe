"""English as it is talked: everyday words, and sentences and words of a site."""

from __future__ import annotations

_EVERYDAY = """
    a about after again ago ah all alright also always am and another any anybody anything are around as
    ask at away baby bad ball be because been before being believe best better big bit boss bought boy
    bring brother brought bucket but buy by call came can car care careful carry catch cause chair
    change cheap city clean close coffee cold come coming cool could couple crazy cup damn dark day dead
    deal did didn't dinner do doctor does doesn't dog doing don't down drink drive during each early eat
    else enough even ever every everybody everything excuse eye face fact family far fast father feel
    feet few figure fine fire first fix food forget found friday friend friends from front fun funny
    game gave get getting girl give go god goes going gone gonna good got great guess guy guys had hair
    half hand happen happy hard has have haven't he hear heard heart heavy hell hello her here hey hi
    high him his hit home hope hot house hundred hungry hurry hurt husband i i'll i'm i've idea if
    important in inside into is isn't it it's job just keep kid kids kind knew know ladder lady last
    later left less let let's lie life light like line listen little live long look lot love low luck
    lunch machine mad made make man many matter maybe me mean men might mind minute miss monday money
    month more morning most mother move much music must my myself name near never news nice night nobody
    nope not nothing now of off office often oh old on once only or order other our out outside over own
    paid paint paper party pay people phone pick picture piece place play please police power pretty
    probably problem pull put question quick quite radio rain reach ready real really reason remember
    rest right road room run said same saw say school see seen send shall she shoes should show shut
    side since sir sister sit sleep slow small smell so some somebody somehow someone something
    sometimes son soon sorry sound speak stand start stay still story street stuff such summer sun sure
    table take taken talk tell than thank thanks that that's the their them then there there's these
    they they're thing things think this those though thought through till time tired today together
    told tomorrow tonight too took top touch town traffic tree tried trouble truck true trust try turn
    under understand until up us use usually very wait wake walk wall want wanted was watch water way we
    we'll we're weather week weekend well went were what what's when where which while white who whole
    whose why wife will window wish with without woman won't wonder wood word work working world worry
    worse would wrong yeah year years yesterday yet you you'll you're young your
"""
_SENTENCES = """
    the corner is still damp
    the wall is still wet and needs another day
    the floor is out of level by the door
    the wall is out of plumb near the window
    there is a crack in the screed under the window
    there is a hollow spot behind the tile
    the membrane is damaged at the drain
    we found a nail in the wall
    we had to stop for an hour because of the rain
    the power was off from ten to eleven
    the delivery came late this morning
    two boxes of tile are broken
    the tiles are a different color
    the edge of the panel is chipped
    the panel is cracked at the corner
    the grout does not match
    the plumber was here and moved the pipe
    the electrician has to come back before we go on
    the foreman looked at it and said to go on
    we changed the trowel because the bed was too thin
    we mixed with more water than the bag says
    the mortar was too stiff and we threw it away
    the mortar skinned over before we could set the tile
    we need more mortar tomorrow
    we ran out of spacers
    waiting for the owner to decide about the layout
    the owner asked for a bigger joint
    the lifter lost suction once
    he cut his hand and got first aid
    please call the office about the leak
    take a photo of the corner and send it
    do not grout before friday
    this should be checked again next week
    it is too cold to work in here
    the heating was turned off during the night
    the substrate is dusty and was vacuumed again
    there are two tiles left for the last row
    the cut at the shower niche does not fit
    the slope to the drain is not right
    i will finish the rest after lunch
"""
_WORDS = """
    above across adhesive aid anchor angle apart apprentice architect asked back backer bag bags balcony bar base
    bath bathroom batch beam bed behind below bench bend bent blade board bottom bowed box boxes bracket break bright
    bring broke broken brush bubble bucket buckle builder building bump burn bought came cable ceiling cement center
    chalk check checked chip chipped clamp clean cleaned clip closed cloth cloudy cold color comb combed concrete
    condensation contractor corner corners correct cover covered crack cracked cracks crew crooked cross cure cured
    curing curb cut cutter cutting cuts damage damaged damp dark dates deep delay delayed delivered delivery dent dirt
    dirty discolored door doorway double drain drawing drill dried drip drop dropped dry drying dust dusty edge edges
    electrician elevator empty end engineer entrance even exposed extra fan fell fill filled film final find finish
    finished fit fits flat flaw float floor flooring forgot forklift frame frost full gap gauge glass gloves glue
    grind grinder grinding ground grout hairline hall hallway heat heated heater heating heavy height helmet helper
    high hole holes hollow hose hot humid inch inches inside inspector install installed iron job joint joints joist
    kitchen knee lack laid landing laser late lay layer laying layout leak leaked leaking ledge left level lift lifted
    light line lip lobby loose lost low lumpy manager mark marked mask mat measure measured membrane metal middle
    missing mix mixed mixer moisture moved mud nail neighbor new niche nick noise notch off oil open outlet outside
    overnight owner paint pallet panel panels patch pencil piece pieces pipe plan plaster plastic plumb plumber plywood
    pool porcelain pour poured powder primed primer pump pushed put rail rained ramp repair repaired replace replaced
    rip roof room rough row rows rubber rust safety sand sawed scratch scraped scratched screed screw screws seal sealed
    sealer set setting shade sharp shelf shim shower shut side silicone sink skim slab sloped slope slow smooth soft
    sound spacer spacers spill spilled split sponge spot square stained stains stair stairs step steps stiff stone
    stopped store straight strip suction supplier surface swelled tape tar tear temperature test tested thick thin
    threshold tight tile tiles tilt toilet took tool tools touched trim trowel tub turned uneven upstairs vacuum vent
    vibrated wall walls warm warped washed waste water waterproof wave wavy wear wedge wet wheel white wide window
    windows wipe wiped wire wires wiring wood yard yesterday
"""
EVERYDAY = tuple(_EVERYDAY.split())
SITE_SENTENCES = tuple(" ".join(line.split()) for line in _SENTENCES.strip().splitlines())
SITE_WORDS = tuple(_WORDS.split())
# Everyday words that sound like a word which may be said to the tablet, with it. Letters of tile names are left out:
# without "you", "see" and "why" no talk would be left.
HOMOPHONES = tuple(
    frozenset(words.split())
    for words in (
        "buy by",
        "do due",
        "hear here",
        "hi high",
        "it's its",
        "knew new",
        "know no",
        "right write",
        "son sun",
        "their there they're",
        "too to two",
        "wait weight",
        "way weigh",
        "we'll will",
        "where wear",
        "wood would",
        "you're your",
    )
)
