"""What each kind of claim says about time: statements turned into bounds and differences, each with its reason.

Two things in time belong to a print: its exposure (named by the accession number) and its printing
(`printing_of`). A bound on the printing binds the exposure from above only: a picture is taken before it is
printed, and may be printed again decades later.

========================  ==================================================  =================================
kind                      binds                                               how
========================  ==================================================  =================================
inscription, caption,     the exposure: the days that the value allows; of a  as sure as it was said; a guess
"not before", a guess     month or season without a year the months           comes last and is asked about
laboratory stamp, date    the printing, so the exposure from above; weighs    as sure as it was said
in the border             the exposure towards the year before
always                    exposure ≤ printing                                 before all else
person alive              the exposure: first possible birthday to last       as sure as the person and as the
                          possible day                                        date: "about" likely, "?" a guess
person alive              the exposure: birth + 110 years, death − 110 years    soft, much trusted
stated age                the exposure: from the birthday of that age to the  likely, or as sure as the birth
                          eve of the next (29 February: `core.birthdays`)
estimated age             the same, tolerance in the value                    soft
occasion                  the exposure: the occasion's date                   as sure as date and belonging
occasion                  its prints lie within `OCCASION_DAYS`, or as many   soft
                          days as its date spans
process, material, paper  the printing: earliest … latest + 2 years of old    likely where the table is sure and
border, back, postcard    stock; + 2 years where the table knows America      names a source, else soft
                          alone
mounts (cdv, cabinet,     the printing: earliest … latest + 3 years           the same
format)
revenue stamp             the printing: the days of the tax                   the same
tintype, daguerreotype,   exposure and printing, one day apart at most: the   the same
cased picture, instant    picture was in the camera
film                      the exposure: first sale … last sale + 2 years; a   the same
                          negative may be printed much later, so the
                          printing from below only
thing in the picture      the exposure: earliest … latest, if it went away    the same
print size                as the one format of that size                      soft, low
former name of a place    the exposure from above: name's end + `HABIT_YEARS` soft
on back or in caption
roll, laboratory order    within `ROLL_DAYS`; within `ROLL_USUAL_DAYS`        soft, the first more trusted
number on roll, back or   not before any print of the number before it        likely
in the container
prints of one negative    the exposures are one day; each printing its own    as sure as it was said
laid after another        not before that other print                         as sure as it was said
album page                not before the prints of the page before            soft
years of the collection   the exposure: the years that its owner said first   soft, the least trusted
========================  ==================================================  =================================

What is soft is a rule of thumb: entered after everything else, the more trusted first, and overruled without a
question. A table's fact binds only when its confidence is high, a source was read for it and none disputes it.
"""

from __future__ import annotations

from solander.core.evidence.all_kinds import evidence_of, things_of
from solander.core.evidence.occasions import OCCASION_DAYS
from solander.core.evidence.orders import ROLL_DAYS, ROLL_USUAL_DAYS, in_dispute
from solander.core.evidence.paper import DatingFact
from solander.core.evidence.place_names import FormerName
from solander.core.evidence.records import Evidence, Weight, occasion_thing, page_thing, printing_of, roll_thing
from solander.core.evidence.sequences import chains_of

__all__ = [
    "OCCASION_DAYS",
    "ROLL_DAYS",
    "ROLL_USUAL_DAYS",
    "DatingFact",
    "Evidence",
    "FormerName",
    "Weight",
    "chains_of",
    "evidence_of",
    "in_dispute",
    "occasion_thing",
    "page_thing",
    "printing_of",
    "roll_thing",
    "things_of",
]
