"""What may be said in German. The phrases for orders are our own choice; the words are from memory, no source.

Years and numbers are said as several words ("neunzehn hundert acht und fünfzig"), as dictionaries hold the parts
of numbers and not every number.
"""

from __future__ import annotations

from solander.core.orders import Order
from solander.core.phrases.languages.de import GERMAN as DATES
from solander.reading.speech.table import Counting, Table

__all__ = ["GERMAN"]

_JOINED_UNITS = "ein|zwei|drei|vier|fünf|sechs|sieben|acht|neun"
_FIRST = "erste dritte vierte fünfte sechste siebte achte neunte zehnte elfte zwölfte"
_SMALL = ("erste", "zweite", *_FIRST.split()[1:])
_TEENS = ("dreizehnte", "vierzehnte", "fünfzehnte", "sechzehnte", "siebzehnte", "achtzehnte", "neunzehnte")


def _day(said: str) -> str:
    """A day in the cases in which it stands: "der dritte", "am dritten", "dritter"."""
    return "|".join(f"{said}{ending}" for ending in ("", "n", "r"))


_COUNTING = Counting(
    units="eins|zwei|drei|vier|fünf|sechs|sieben|acht|neun",
    teens="zehn|elf|zwölf|dreizehn|vierzehn|fünfzehn|sechzehn|siebzehn|achtzehn|neunzehn",
    tens="zwanzig|dreißig|vierzig|fünfzig|sechzig|siebzig|achtzig|neunzig",
    joint="und",
    joined_units=_JOINED_UNITS,
    centuries="achtzehn hundert|neunzehn hundert|zwei tausend",
    round_years="achtzehn hundert|neunzehn hundert|zwei tausend",
    days=tuple(
        _day(each)
        for each in (
            *_SMALL,
            *_TEENS,
            "zwanzigste",
            *(f"{unit} und zwanzigste" for unit in _JOINED_UNITS.split("|")),
            "dreißigste",
            "ein und dreißigste",
        )
    ),
    day_endings=(".",) * 31,
)

GERMAN = Table(
    code="de",
    dates=DATES,
    counting=_COUNTING,
    orders={
        Order.TAKE: "jetzt bitte aufnehmen|nimm dieses bild auf",
        Order.TAKE_AGAIN: "noch einmal bitte|dasselbe noch einmal",
        Order.BACK: "hier ist die rückseite|ich habe es umgedreht",
        Order.OWN_PRINT: "eigener abzug|das ist ein eigener abzug",
        Order.UNDO: "rückgängig machen|nimm das zurück",
        Order.CLEAR: "zettel leeren|neuen zettel anfangen",
        Order.REST: "wir machen pause|kamera ausruhen lassen",
        Order.WAKE: "es geht weiter|kamera wieder an",
        Order.STORY: "ich erzähle etwas dazu|hör dir eine geschichte an",
        Order.STORY_ENDS: "ende der geschichte|so war das damals",
        Order.EMPTY_STAGE: "die auflage ist leer|nichts liegt auf der auflage",
        Order.DEAF: "nicht mehr zuhören|mikrofon bitte schließen",
    },
    joints="mit|und|ohne|in|bei|aus|das ist|das sind",
    back="nein|entschuldigung|ich meine|quatsch|nein warte",
    kinds_of_container={
        "schachtel": "B",
        "karton": "B",
        "kiste": "B",
        "umschlag": "E",
        "kuvert": "E",
        "album": "A",
        "seite": "P",
        "blatt": "P",
    },
    months=(
        "januar|jänner",
        "februar|feber",
        "märz",
        "april",
        "mai",
        "juni",
        "juli",
        "august",
        "september",
        "oktober",
        "november",
        "dezember",
    ),
    seasons=("frühling|frühjahr", "sommer", "herbst", "winter"),
    feasts="weihnachten|heiligabend|silvester|neujahr|ostern|ostersonntag|ostermontag|karfreitag|palmsonntag|"
    "pfingsten|pfingstmontag|fronleichnam|himmelfahrt|muttertag|fasching|karneval|rosenmontag|allerheiligen|"
    "nikolaus",
    events="der krieg|dem krieg|ersten weltkrieg|zweiten weltkrieg|kriegsende|kriegsbeginn|nachkriegszeit|"
    "währungsreform|jahrhundertwende|kaiserzeit|weimarer republik|zwischen den kriegen",
    decades="zwanziger|dreißiger|vierziger|fünfziger|sechziger|siebziger|achtziger|neunziger",
    decade_leads="",
    of="im|des",
    article="der|die|den|dem|am|im|in",
    about="um|etwa|ungefähr|gegen|circa",
    before="vor",
    after="nach",
    during="im|während",
    early="anfang|mitte|ende|frühe|späte",
    between="zwischen",
    and_="und",
    next_container="nächste schachtel|nächster umschlag|nächstes album|nächste seite",
    people_leads="mit|und|ohne",
    whole_people={
        "dieselben": "dieselben",
        "dieselben leute": "dieselben leute",
        "niemand darauf": "niemand",
        "niemand drauf": "niemand",
    },
    whose="ihr|ihre|ihrem|ihrer|sein|seine|seinem|seiner|mein|meine|unser|unsere",
    relatives="bruder|schwester|mutter|vater|mann|frau|sohn|tochter|onkel|tante|cousin|cousine|großmutter|"
    "großvater|oma|opa|eltern|kinder|geschwister|nichte|neffe",
    titles="onkel|tante|oma|opa|cousin|cousine",
    hesitations="äh|ähm|hm|also",
)
