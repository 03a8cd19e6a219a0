"""What may be said in English. The phrases for orders are our own choice."""

from __future__ import annotations

from solander.core.orders import Order
from solander.core.phrases.languages.en import ENGLISH as DATES
from solander.reading.speech.table import Counting, Table

__all__ = ["ENGLISH"]

_FIRST = "first second third fourth fifth sixth seventh eighth ninth"
_DAYS = (
    f"{_FIRST} tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth "
    "twentieth"
).split()

_COUNTING = Counting(
    units="one|two|three|four|five|six|seven|eight|nine",
    teens="ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen",
    tens="twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety",
    centuries="eighteen|nineteen",
    round_years="eighteen hundred|nineteen hundred|two thousand",
    zero="oh",
    later="two thousand|two thousand and",
    later_teens="twenty",
    days=(*_DAYS, *(f"twenty {first}" for first in _FIRST.split()), "thirtieth", "thirty first"),
    day_endings=tuple(
        "th" if 10 < day < 20 else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th") for day in range(1, 32)
    ),
)

ENGLISH = Table(
    code="en",
    dates=DATES,
    counting=_COUNTING,
    orders={
        Order.TAKE: "capture it now|capture this print",
        Order.TAKE_AGAIN: "once more please|take that again",
        Order.BACK: "here is the back|turned it over",
        Order.OWN_PRINT: "separate print|that's a separate print",
        Order.UNDO: "undo that|undo the last one",
        Order.CLEAR: "wipe the slip|start a fresh slip",
        Order.REST: "stand by please|pause the camera",
        Order.WAKE: "carry on please|wake the camera",
        Order.STORY: "let me tell a story|begin a story",
        Order.STORY_ENDS: "end of the story|that was the story",
        Order.EMPTY_STAGE: "the stage is empty|nothing on the stage",
        Order.DEAF: "stop listening now|close the microphone",
    },
    joints="with|and|without|in|at|from|this is",
    back="no|sorry|i mean|no sorry|no wait",
    kinds_of_container={"box": "B", "envelope": "E", "album": "A", "page": "P"},
    months=(
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ),
    seasons=("spring", "summer", "autumn|fall", "winter"),
    feasts="christmas|christmas eve|christmas day|new year's eve|new year|easter|easter sunday|easter monday|"
    "whitsun|midsummer|halloween|good friday|palm sunday|boxing day",
    events="the war|first world war|second world war|world war one|world war two|the depression|"
    "between the wars|turn of the century",
    decades="twenties|thirties|forties|fifties|sixties|seventies|eighties|nineties",
    decade_leads="eighteen|nineteen",
    of="of|in",
    article="the",
    about="about|around|circa|roughly",
    before="before",
    after="after",
    during="during",
    early="early|mid|late",
    between="between",
    and_="and",
    next_container="next envelope|next box|next page|next album",
    people_leads="with|and|without",
    whole_people={"same people": "same people", "the same people": "same people", "nobody on it": "nobody"},
    whose="her|his|their|my|our",
    relatives="brother|sister|mother|father|husband|wife|son|daughter|uncle|aunt|cousin|grandmother|grandfather|"
    "grandma|grandpa|parents|children|sons|daughters|brothers|sisters|niece|nephew",
    titles="uncle|aunt|auntie|cousin|grandma|grandpa|little|old",
    hesitations="er|um|uh|well",
)
