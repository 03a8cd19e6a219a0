"""What may be said in English. The phrases for orders are our own choice."""

from __future__ import annotations

from solander.core.orders import Order
from solander.core.phrases.languages.en import ENGLISH as DATES
from solander.reading.speech.table import Table

__all__ = ["ENGLISH"]

ENGLISH = Table(
    code="en",
    dates=DATES,
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
    numbers={},
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
    zero="oh",
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
