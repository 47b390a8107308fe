"""English words that a site's notes need, beside those of the program and the kept general list."""

from __future__ import annotations

# For "this is ...": a crew is called by its given names. Ours: common ones of many languages that CMUdict has.
GIVEN_NAMES = """
    aaron adam adrian ahmed aisha alan albert alejandro alex alexander ali alice amanda amir amy ana andre andrea
    andrew andy angela anita ann anna anne anthony anton antonio arthur ashley barbara ben benjamin bill bob boris
    brandon brenda brian bruce bruno carl carla carlos carmen carol caroline catherine charles charlie chris
    christian christina christine christopher claire clara claudia connor craig cynthia dan daniel danny dave david
    dean deborah denis dennis derek diana diego dmitri donald donna doug dylan eddie edgar edward edwin elena eli
    elizabeth ella emil emily emma eric erik ernest ethan eva evan fatima felix fernando fiona florian francesca
    francis francisco frank fred gabriel gary george gerald gina giovanni glen gloria gordon grace greg gregory
    gustavo hanna hannah hans harold harry hassan heather hector helen helga henry hugo ian ibrahim igor ines ingrid
    irene isaac isabel ivan jack jacob jake james jamie jan jane janet jason javier jean jeff jennifer jenny jeremy
    jerry jesse jessica jill jim joan joe joel john johnny jonathan jorge jose joseph joshua juan juanita judith
    julia julian julie karen karl kate katherine kathy katie keith kelly ken kenneth kevin khalid kim klaus kurt
    kyle lars laura lauren lee lena leo leon leonard lewis lily linda lisa logan lola lorenzo louis louise lucas
    lucia lucy luis luke luther manuel marco marcus margaret maria marie mario mark marta martha martin marvin mary
    matt matthew maurice max maya megan melissa michael michelle miguel mike mila miles mohamed mohammed monica
    nadia nancy natalie nathan neil nicholas nick nicole nina noah nora norman oleg olga oliver olivia omar oscar
    otto owen pablo pamela pat patricia patrick paul paula pedro peggy peter petra phil philip rachel rafael ralph
    ramon randy raul ray rebecca ricardo richard rick rita rob robert roberto robin rodney roger roland roman ron
    ronald rosa rose roy ruben russell ruth ryan sally sam samantha samuel sandra sara sarah scott sean sebastian
    sergei sergio sharon shawn sheila simon sofia sonia sophie stan stanley stefan stella stephanie stephen steve
    steven stuart sue susan tamara tanya tara ted teresa terry theo theresa thomas tim timothy tina todd tom tomas
    tommy tony tracy tyler vera vernon veronica victor victoria viktor vincent vladimir walter wanda wayne wendy
    william wolfgang xavier yolanda yvonne zach zoe
"""

CALENDAR = """
    january february march april may june july august september october november december
    monday tuesday wednesday thursday friday saturday sunday
"""
# Weather beside what the program listens for, as it is said in notes.
WEATHER_WORDS = "clear dry wet warm cold hot frost fog storm stormy thunder hail drizzle showers wind"
