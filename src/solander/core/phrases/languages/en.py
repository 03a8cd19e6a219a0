"""English."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.english import english, english_decades, english_ordinals

__all__ = ["ENGLISH"]


def _reigns() -> dict[str, tuple[tuple[str, str], ...]]:
    reigns = {
        "queen victoria|victoria": ("1837-06-20", "1901-01-22"),
        "edward vii|edward the seventh": ("1901-01-22", "1910-05-06"),
        "george v|george the fifth": ("1910-05-06", "1936-01-20"),
        "edward viii|edward the eighth": ("1936-01-20", "1936-12-11"),
        "george vi|george the sixth": ("1936-12-11", "1952-02-06"),
        "elizabeth ii|elizabeth the second": ("1952-02-06", "2022-09-08"),
    }
    forms = ("reign of {}", "reign of king {}", "reign of queen {}", "{}'s reign", "{}'s time", "king {}'s reign")
    return {
        "|".join(form.format(name) for name in names.split("|") for form in forms): (span,)
        for names, span in reigns.items()
    }


ENGLISH = Language(
    code="en",
    months=(
        "january|jan|jany",
        "february|feb|febr|feby",
        "march|mar",
        "april|apr|apl",
        "may",
        "june|jun|jne",
        "july|jul|jly",
        "august|aug|augt|agst|augst",
        "september|sept|sep|septr|sepr",
        "october|oct|octr|octbr",
        "november|nov|novr|novbr",
        "december|dec|decr|decbr",
    ),
    seasons=(
        "spring|springtime|spring term",
        "summer|summertime|summer term",
        "autumn|fall|autumn term|michaelmas term",
        "winter|wintertime",
    ),
    weekdays=(
        "monday|mon",
        "tuesday|tue|tues",
        "wednesday|wed",
        "thursday|thu|thur|thurs",
        "friday|fri",
        "saturday|sat",
        "sunday|sun",
    ),
    feasts={
        "advent": "advent sunday",
        "advent~": "advent",
        "michaelmas": "michaelmas|michaelmas day",
        "martinmas": "martinmas",
        "lammas": "lammas|lammas day",
        "candlemas": "candlemas",
        "harvest~": "harvest festival",
        "easter eve": "easter saturday|holy saturday|easter eve",
        "nicholas": "st nicholas|st nicholas' day|st. nicholas' day",
        "christmas~": "christmas|xmas|x-mas|x mas|christmas time|christmastime|yuletide",
        "christmas": "christmas day|xmas day",
        "christmas eve": "christmas eve|xmas eve",
        "boxing day": "boxing day|st stephen's day|st. stephen's day",
        "new years eve": "new year's eve|new years eve|nye|hogmanay",
        "new year": "new year's day|new years day",
        "new year~": "new year|new year's|new years",
        "epiphany": "epiphany|twelfth night",
        "valentine": "valentine's day|valentines day|valentine's",
        "patrick": "st patrick's day|st. patrick's day",
        "shrove tuesday": "shrove tuesday|pancake day|mardi gras",
        "ash wednesday": "ash wednesday",
        "mothering sunday": "mothering sunday",
        "palm sunday": "palm sunday",
        "maundy thursday": "maundy thursday",
        "good friday": "good friday",
        "easter~": "easter|eastertime|easter time|easter weekend|easter holidays|easter holiday",
        "easter": "easter sunday|easter day",
        "easter monday": "easter monday|easter mon|easter bk hol|easter bank hol|easter bank holiday",
        "ascension": "ascension day",
        "whitsun~": "whitsun|whitsuntide|whit|whit wk|whit wkend|whit week|whit weekend|pentecost",
        "whitsun": "whit sunday|whitsunday|pentecost sunday",
        "whit tuesday": "whit tuesday|whit tues",
        "whit monday": "whit monday|whit mon|"
        "whit bk hol|whit bank hol|whitmonday|whitsun bank holiday|whit bank holiday",
        "trinity": "trinity sunday",
        "corpus christi": "corpus christi",
        "labour day": "may day|mayday",
        "spring bank holiday": "spring bank holiday",
        "memorial day": "memorial day|decoration day",
        "fathers day": "father's day|fathers day",
        "columbus day": "columbus day",
        "burns": "burns night",
        "david": "st david's day|st. david's day",
        "george": "st george's day|st. george's day",
        "anzac": "anzac day",
        "empire day": "empire day",
        "dominion day": "dominion day|canada day",
        "april fool": "april fools' day|april fool's day|all fools' day",
        "mothers day": "mother's day|mothers day",
        "midsummer~": "midsummer",
        "midsummer": "midsummer day|midsummer's day",
        "independence us": "independence day",
        "bastille": "bastille day",
        "august bank holiday": "aug b.h.|"
        "august bank holiday|aug bank holiday|aug bk hol|august bk hol|aug bank hol|august bank hol|"
        "bank holiday monday in august",
        "labor day~": "labor day weekend",
        "memorial day~": "memorial day weekend",
        "august bank holiday~": "august bank holiday weekend",
        "spring bank holiday~": "spring bank holiday weekend",
        "thanksgiving~": "thanksgiving weekend",
        "labor day": "labor day",
        "halloween": "halloween|hallowe'en",
        "bonfire": "bonfire night|guy fawkes night|guy fawkes|guy fawkes day",
        "armistice": "armistice day|remembrance day|veterans day",
        "all saints": "all saints day|all saints' day",
        "thanksgiving": "thanksgiving day|thanksgiving",
    },
    events={
        "1914-18 war|14-18 war|1914-1918 war|kaiser's war": (wars.FIRST,),
        "1939-45 war|39-45 war|1939-1945 war|hitler's war": (wars.SECOND,),
        "korean war|korea war": wars.KOREA,
        "vietnam war": wars.VIETNAM,
        "boer war|south african war": (("1899-10-11", "1902-05-31"),),
        "crimean war": (("1853-10-16", "1856-03-30"),),
        "franco-prussian war": wars.FRANCO_PRUSSIAN,
        "spanish civil war": wars.SPAIN,
        "american civil war|war between the states": (("1861-04-12", "1865-05-09"),),
        "spanish-american war": (("1898-04-21", "1898-08-13"),),
        "falklands war|falklands": (("1982-04-02", "1982-06-14"),),
        "gulf war": (("1990-08-02", "1991-02-28"),),
        "cold war|the cold war|civil war|the civil war|war memorial|the war memorial|war grave|war graves|"
        "war bride|war baby|war widow|man of war|warship|war ministry|war office|war hero": wars.OTHER,
        "prewar": wars.BEFORE_THE_WAR,
        "postwar": wars.AFTER_THE_WAR,
        "outbreak of war|outbreak of the war|war was declared|war broke out|the war broke out|"
        "start of the war|declaration of war": wars.START_OF_WAR,
        "end of the war|the end of the war|war's end|the war ended|war ended": wars.END_OF_WAR,
        "the depression|great depression|the great depression|the slump": (("1929-10-24", "1939"),),
        "roaring twenties|the roaring twenties": (("1920", "1929"),),
        "swinging sixties|the swinging sixties": (("1960", "1969"),),
        "prohibition": (("1920-01-17", "1933-12-05"),),
        "general strike|the general strike": (("1926-05-03", "1926-05-12"),),
        "silver jubilee|jubilee": (("1977-06-07", "1977-06-07"), ("1935-05-06", "1935-05-06")),
        "diamond jubilee": (("1897-06-22", "1897-06-22"),),
        "golden jubilee": (("1887-06-20", "1887-06-20"),),
        "armistice": (("1918-11-11", "1918-11-11"),),
        "abdication": (("1936-12-10", "1936-12-11"),),
        "the festival of britain|festival of britain": (("1951-05-03", "1951-09-30"),),
        "battle of britain": (("1940-07-10", "1940-10-31"),),
        "dunkirk": (("1940-05-26", "1940-06-04"),),
        "victorian era|victorian period|victorian age": (("1837-06-20", "1901-01-22"),),
        "edwardian era|edwardian period|edwardian age": (("1901-01-22", "1910-05-06"),),
        **_reigns(),
        "the war|war|wartime|war time|war years|the war years": wars.THE_WAR,
        "world war two|world war ii|world war 2|wwii|ww2|ww ii|second world war|2nd world war": (wars.SECOND,),
        "world war one|world war i|world war 1|wwi|ww1|ww i|first world war|great war|1st world war": (
            wars.FIRST,
        ),
        "between the wars|interwar|inter-war|inter war": (wars.BETWEEN,),
        "inter-war years|interwar years|interwar period|inter-war period": (wars.BETWEEN,),
        "turn of the century|turn of century": (wars.TURN_OF_CENTURY,),
        "the blitz|blitz": (("1940-09-07", "1941-05-11"),),
        "ve day|v.e. day|v e day": (("1945-05-08", "1945-05-08"),),
        "vj day|v.j. day|v j day": (("1945-08-15", "1945-08-15"),),
        "d-day|d day": (("1944-06-06", "1944-06-06"),),
        "coronation year|year of the coronation|the year of the coronation": (("1953", "1953"), ("1937", "1937")),
        "coronation day|the coronation|coronation": (
            ("1953-06-02", "1953-06-02"),
            ("1937-05-12", "1937-05-12"),
        ),
        "victorian|victorian times|queen victoria's time": (("1837-06-20", "1901-01-22"),),
        "edwardian|edwardian times": (("1901-01-22", "1910-05-06"),),
    },
    decades=english_decades(),
    decade_endings="s|'s|-something|-odd",
    about_endings="ish|-ish",
    ordinal_endings="st|nd|rd|th",
    numbers=english(),
    ordinals=english_ordinals(),
    century="century|cent",
    about="nearly|almost|around and about|roughly about|some time in about|maybe about|on or about|c|ca|circa|"
    "cca|about|abt|around|approx|approximately|approximate|roughly|round about|some time around|"
    "sometime around|somewhere around|somewhere about|give or take|more or less|in or about|thereabouts",
    about_after="or so|or thereabouts|ish|-ish|or about then|give or take|give or take a year|more or less|"
    "there or thereabouts|as near as i can say|roughly|around then",
    maybe="i want to say|don't hold me to it|don't quote me on it|don't quote me|"
    "i couldn't swear to it|couldn't swear to it|i wouldn't swear to it|wouldn't swear to it|"
    "can't swear to it|couldn't swear|i can't be sure|can't be sure|can't be certain|couldn't be certain|"
    "couldn't say for sure|i'm not sure|not certain|not quite sure|i'm not certain|i fancy|i reckon|"
    "i'd say|i would say|i should think|i dare say|i should say|say|let's say|if i remember rightly|"
    "if i remember right|if memory serves|don't quote me|as far as i remember|as far as i recall|"
    "it might have been|it may have been|it could have been|might have been|could have been|"
    "must have been|i'm guessing|at a guess|my guess is|if i'm not mistaken|perhaps|maybe|possibly|"
    "probably|prob|poss|presumably|i think|i believe|i guess|might be|could be|must be|may be|"
    "may have been|not sure|uncertain|i suppose",
    early="early|beginning of|the beginning of|start of|the start of",
    mid="mid|middle of|the middle of|mid-|mid -",
    late="late|end of|the end of",
    between="between|betw|bet",
    both="and|&",
    either="or|if not",
    to="to|through",
    before="before|bef|prior to|earlier than|pre|pre-",
    after="after|aft|later than|post|post-",
    until="postmarked|postmark|posted|post-marked|"
    "to|not later than|no later than|by|until|till|up to|not after|on or before|before or in",
    since="not earlier than|no earlier than|since|from|not before|on or after|as from|from about",
    or_before="or earlier|or before|at the latest|or a bit before",
    or_after="or later|or after|at the earliest|onwards|onward|or a bit later",
    during="during|in the course of|throughout",
    first_half="first half of|1st half of|the first half of",
    second_half="second half of|2nd half of|the second half of",
    week_of="wk of|wk. of|week commencing|w/c|week of|week beginning",
    week_ending="wk end|wk ending|w/e|wk. ending|week end|week ending",
    lab="developed|processed|printed|print made|processed by|developed by|made by|finished|processing date",
    correction="i tell a lie|no i tell a lie|tell a lie|i lie|no that's not right|that's not right|that's wrong|"
    "that can't be right|that's not it|not right|what am i saying|no hang on|hang on|hold on|no hold on|"
    "scratch that|strike that|beg pardon|pardon|oh no|let me think|let me correct that|wrong|i'm wrong|"
    "i'm lying|nope|nay|no|sorry|i mean|or rather|rather|no it was|no wait|wait|actually|correction|"
    "make that",
    filler="ad|holiday|holidays|hols|either|somewhere|back in|it must have been|month of|the|of|in|on|at|dated|"
    "date|taken|year|during the|er|erm|um|uh|hm|hmm|well|let me see|sometime|some time|a|an|weekend|"
    "week-end|but|oh|now|so|then|ooh|ah|there|right|in about the year",
    was="was it|wasn't it|would it be|it was|was|it's|that was|it would be|it would have been|it'd be|"
    "that'd be|that would be|that'd have been|that would have been|this was|this is|that's|that is|'twas|"
    "they were|we were in",
    day_first=None,
    labels="no .|nos .|neg .|negative|neg|number|nr .|nr|ref .|ref|box|lot|page|p .|pp .|plate|print no|engine|"
    "loco|flight|room|cat .|model|model of|series|class",
    hours="o'clock|am|pm|a.m.|p.m.|hrs|hours|oclock",
    clock="at half past|half past|quarter past|quarter to",
    of_another="letter of|letter dated|letter from|a letter of|copied|copied in|copy of|copy made|"
    "copy made in|reprinted|reprinted in|reprint|rephotographed|rephotographed in|"
    "restored|restored in|scanned|scanned in|received|received in|given to us in|written in",
    born="b .|( b|born|bn .|born on|born in|born about|died|d .|( d|died in|married name",
    framing="in|it was|that was|that's|it's|that'd be|that would be|it would be|it'd be|it would have been|"
    "that would have been|it must have been|must have been|that must have been|back in|the year|"
    "in the year|year of|during|since|before|after|until|by|around about|this was|this is|it was in|"
    "was it|was that|in about|early|late|mid|from|or in|to in|wasn't it in|circa|it was about",
    framed_by="it was|it would be|it'd be|it would have been|that was|it must have been|was it|that would be|"
    "that'd be|that would have been|i think it was|that is",
    clauses="we|i|she|he|they|you|when|that|because|and|before|after|just|my|our|your|his|her|mum|dad|mother|"
    "father|grandma|grandad|nan|granny|with",
    something="something|- something|odd|- odd|or something|and something|summat|- summat",
    denial="not|wasn't|isn't|never|not in|wasn't in|it wasn't|it's not",
    streets="street of the",
    streets_behind="street|road|avenue|lane|terrace|crescent|drive|close|gardens|square|grove|boulevard|rd|ave",
    postmarks=("ja", "fe", "mr", "ap", "my", "ju", "jy", "au", "sp", "oc", "no", "de"),
    units={
        "year": "year|years|yr|yrs|y.o",
        "month": "month|months|mth|mths|mo|mos",
        "week": "week|weekend|week-end|weeks|wk|wks",
        "day": "day|days",
    },
    many="years|yrs|months|mths|mos|weeks|wks|days",
    few={"a few|few|some|several": (2, 5), "a couple of|couple of": (2, 3)},
    just="just|shortly|right|soon|immediately|not long|a little|a bit|a short time|a short while",
    nearest="last|next|previous|following|very next|very last|very first",
    own="her|his|their|my|our|your",
    possessive="'s",
    lives={
        "birthday year": "year when/that? {who} turned/became {age}",
        "age": "{who} at {alone}|{who} when she/he was {age}|{who} was about? {age}|"
        "when/while/as {who} was/were only?/just? {age} old?|{who} was only?/just? {age} old?|"
        "{who} aged/age/aet {age} old?|{who} at {years} old?|{who} at the? age of? {age}|{who} {years} old?|"
        "{who} is {years} old?|{years} old? {who}|aged {age} {who}",
        "birthday": "{who} on her/his/their? {nth} birthday|{who} turned {age}|{who} became {years}|"
        "{who} was {years} old? today|"
        "{whose} {nth} birthday|when/day {who} turned/became {age}|{nth} birthday of {who}",
        "birthday in": "{whose} birthday in? {year}",
        "birth": "when/day {who} was born|{who} was born|{whose} birth|birth of {who}|when {who} came/arrived",
        "birth year": "year when/that? {who} was born|year of {whose} birth|{whose} birth year",
        "death": "when/day {who} died|when {who} passed away?|{who} died|{who} passed away|{whose} death|"
        "death of {who}",
        "death year": "year when/that? {who} died|year of {whose} death|year {who} passed away?",
        "0-1": "when {who} was still? a? new? baby/infant|{who} as a baby|baby {who}|{who} in arms|"
        "{who} in a/her/his/the pram/cradle",
        "1-3": "when {who} was a toddler|{who} as a toddler",
        "1-9": "when {who} was still? very? little/small/tiny|"
        "when {who} was a little/small boy/girl/lad/lass/child|"
        "{who} as a little/small boy/girl/lad/lass/child|little {who}",
        "0-12": "when {who} was still? a child/kid|{who} as a child/kid|during? {whose} childhood",
        "5-17": "when {who} was a schoolboy/schoolgirl|{who} as a schoolboy/schoolgirl|when {who} was at school",
        "13-19": "when {who} was a teenager|{who} as a teenager|when {who} was in her/his/their teens|"
        "{who} in her/his/their teens|teenage {who}",
        "tens": "when/while {who} was in her/his/their {tens}|{who} was? in her/his/their {tens}",
    },
)
