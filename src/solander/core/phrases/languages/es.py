"""Spanish."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.romance import spanish, spanish_ordinals

__all__ = ["SPANISH"]

SPANISH = Language(
    code="es",
    months=(
        "enero|ene|en.º|eno",
        "febrero|feb|febr|febo",
        "marzo|mar|mzo",
        "abril|abr|abl",
        "mayo|may",
        "junio|jun|jun",
        "julio|jul|jul",
        "agosto|ago|agto|agt|agsto",
        "septiembre|setiembre|sept|sep|set|septbre|sbre|7bre|septe",
        "octubre|oct|octbre|8bre|obre",
        "noviembre|nov|novbre|9bre|nbre",
        "diciembre|dic|dicbre|10bre|dbre",
    ),
    seasons=("primavera", "verano|vacaciones de verano|veraneo", "otoño", "invierno"),
    weekdays=("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo"),
    feasts={
        "ascension": "la ascensión|ascensión",
        "easter monday": "lunes de pascua",
        "shrove monday": "lunes de carnaval",
        "shrove tuesday": "martes de carnaval",
        "mothers day": "día de la madre",
        "easter eve": "sábado santo|sábado de gloria",
        "labour day": "día del trabajo|primero de mayo",
        "all souls": "día de los muertos|día de difuntos",
        "nicholas": "san nicolás",
        "george": "sant jordi|san jorge",
        "christmas~": "navidad|navidades",
        "christmas": "día de navidad",
        "christmas eve": "nochebuena",
        "new years eve": "nochevieja|fin de año",
        "new year": "año nuevo|día de año nuevo",
        "epiphany": "reyes|día de los reyes|día de los reyes magos|reyes magos|día de reyes|epifanía",
        "candlemas": "candelaria",
        "shrove tuesday~": "carnaval|carnavales",
        "ash wednesday": "miércoles de ceniza|miércoles de ceniza",
        "palm sunday": "domingo de ramos",
        "maundy thursday": "jueves santo",
        "good friday": "viernes santo",
        "easter~": "pascua|semana santa",
        "easter": "domingo de pascua|domingo de resurrección",
        "whitsun~": "pentecostés",
        "corpus christi": "corpus|corpus christi",
        "joseph": "san josé",
        "midsummer": "san juan|día de san juan",
        "assumption": "la asunción|asunción",
        "spain": "día de la hispanidad|la hispanidad|el pilar",
        "all saints": "todos los santos",
        "immaculate": "la inmaculada|inmaculada",
    },
    events={
        "reinado de alfonso xiii": (("1886-05-17", "1931-04-14"),),
        "posguerra|la posguerra|postguerra": (("1939-04-02", ""), ("1945-05-09", "")),
        "preguerra": (("", "1936-07-16"), ("", "1939-08-31")),
        "segunda república|la república|república": (("1931-04-14", "1939-04-01"),),
        "franquismo|dictadura|la dictadura": (("1939-04-01", "1975-11-20"),),
        "cambio de siglo": (wars.TURN_OF_CENTURY,),
        "guerra de cuba|guerra de cuba y filipinas": (("1895-02-24", "1898-08-13"),),
        "guerra de corea": wars.KOREA,
        "guerra de vietnam": wars.VIETNAM,
        "guerra fría|guerra de|guerra del": wars.OTHER,
        "fin de la guerra|final de la guerra": (("1939-04-01", "1939-04-01"), ("1945-05-08", "1945-05-08")),
        "guerra mundial": wars.THE_WAR,
        "felices años veinte": (("1920", "1929"),),
        "guerra civil|la guerra civil": (("1936-07-17", "1939-04-01"),),
        "la guerra|guerra": (("1936-07-17", "1939-04-01"), wars.SECOND),
        "segunda guerra mundial": (wars.SECOND,),
        "primera guerra mundial|gran guerra": (wars.FIRST,),
    },
    decades={
        20: "años veinte|los veinte|en los 20|de los 20",
        30: "años treinta|los treinta|en los 30|de los 30",
        40: "años cuarenta|los cuarenta|en los 40|de los 40",
        50: "años cincuenta|los cincuenta|en los 50|de los 50",
        60: "años sesenta|los sesenta|en los 60|de los 60",
        70: "años setenta|los setenta|en los 70|de los 70",
        80: "años ochenta|los ochenta|en los 80|de los 80",
        90: "años noventa|los noventa|en los 90|de los 90",
    },
    decade_word="años|década de|década de los",
    ordinal_endings="º|ª|°",
    numbers=spanish(),
    hundreds={"mil ochocientos": 1800, "mil novecientos": 1900, "dos mil": 2000},
    ordinals=spanish_ordinals(),
    century="siglo",
    about="h .|casi|hacia|alrededor de|sobre|ca|c|circa|aproximadamente|cerca de|más o menos|hacia el año|"
    "por el año|a eso de|allá por el|allá por|allá por los años",
    about_after="más o menos|o así|aproximadamente|año arriba año abajo|poco más o menos|por ahí|o por ahí|"
    "año más año menos",
    maybe="creo que|creo que fue|me parece que|yo creo que|yo creo|no estoy segura|no estoy seguro|"
    "no estoy muy segura|no estoy muy seguro|no sé si|no recuerdo bien|no me acuerdo bien|no lo sé|"
    "digamos|diría que|yo diría que|yo diría|supongo que|supongo|pongamos|será|sería|debe ser|debió ser|"
    "debió de ser|debía ser|puede ser|puede que fuera|si no me equivoco|si mal no recuerdo|"
    "si no recuerdo mal|no lo juraría|a lo mejor|a ver si|seguramente|imagino que|me parece|diría|quizás|"
    "quizá|tal vez|probablemente|posiblemente|creo",
    early="principios|a principios|comienzos|a comienzos|inicios|a inicios|principio|inicio|comienzo",
    mid="mediados|a mediados|mitad",
    late="finalizando|finales|a finales|fines|a fines|final|fin",
    between="entre",
    both="y|e",
    either="o|u",
    to="al|a|hasta",
    before="antes de que|antes que|antes de|antes de la|antes del",
    after="después de que|después que|después de|tras|después de la|después del",
    until="matasellos|matasellos de|matasellada|no más tarde de|no más tarde que|hasta|no después de|a más tardar",
    since="desde|a partir de|no antes de",
    or_before="o antes",
    or_after="o después",
    during="durante|durante la",
    week_of="semana del|semana de",
    lab="revelado|revelada",
    correction="no espera|espera|no miento|miento|me equivoco|qué digo|qué estoy diciendo|no no|ay no|digo mal|"
    "no es así|quiero decir|o mejor|más bien|sino|corrijo|disculpa|no|perdón|mejor dicho|digo",
    filler="eeh|em|entre los|o sea|bueno|pues|el|la|los|las|de|del|en|año|eh|este|pero|ay|ah|que|a ver|mira|"
    "entonces|oh",
    first_half="primera mitad de los|primera mitad de|primera mitad del",
    second_half="segunda mitad de los|segunda mitad de|segunda mitad del",
    was="era|fue|es|esto fue|eso fue|eso es|esto es|sería|fue por|fue en",
    streets="calle|plaza|avenida|paseo",
    labels="n . º|n º|nº|n°|nro .|núm .|num .|número|neg .|negativo|placa|página|pág .|tel .|teléfono|telf .|"
    "lote|habitación|tren|modelo|serie",
    hours="h|horas|hrs|hs",
    clock="a las|las",
    of_another="carta de|carta del|copia de|copiada en|copiado en|quinta del|quinta de|reproducida en|"
    "recibida en|restaurada en",
    born="n .|nac .|nacido|nacida|nació en|nacido en|nacida en|nacida el|nacido el|fallecido|fallecida|"
    "falleció en|m .|( n",
    framing="en el|en el año|año|el año|por el|por el año|hacia el|del|sobre el|allá por el|para el|desde el|"
    "hasta el|antes del|después del|fue en el|era el|era en el|fue el|sería el|sería en el|sería por el|"
    "por allá el|a eso del|es del|es de el|allá por|en los",
    framed_by="sería|era|fue",
    clauses="cuando|que|con|nosotros|yo|él|ella|mi|nuestra|nuestro|fuimos|estábamos|teníamos|y|en casa|antes|"
    "después|porque|vivíamos",
    something="y tantos|y tantas|y pico|y algo|y poco|y pocos|y muchos",
    denial="no|no en|no en el|no fue en|no es",
    units={"year": "año|años|añitos", "month": "mes|meses", "week": "semana|semanas", "day": "día|días"},
    many="años|meses|semanas|días",
    few={"unos|unas|unos pocos|pocos|algunos|unos cuantos|varios": (2, 5), "un par de": (2, 3)},
    just="poco|justo|un poco|inmediatamente|poco tiempo",
    nearest="último|última|siguiente|próximo|próxima",
    own="sus|mis|su|mi",
    lives={
        "birthday year": "año en? que {who} cumplió {age}",
        "age": "cuando la/el? {who} tenía solo? {age}|{who} tenía {age}|{who} con {age}|{who} a los {age}|"
        "{who} a la edad de {age}|{who} de {years}|{who} {years}|{who} tiene {years}",
        "birthday": "{who} en su {nth} cumpleaños|{who} en/el? su cumpleaños número {age}|"
        "cuando {who} cumplía {age}|{who} cumplía {age}|{who} al cumplir {age}|"
        "{nth} cumpleaños de {who}|cuando la/el? {who} cumplió {age}|{who} cumplió {age}",
        "birthday in": "cumpleaños de {who} en? {year}",
        "birth": "cuando nació la/el? {who}|cuando la/el? {who} nació|nacimiento de {who}|"
        "naciera/naciese la/el? {who}|"
        "{who} naciera/naciese|nacer {who}|nació {who}|{who} nació|día en? que nació {who}",
        "birth year": "año en? que nació {who}|año en? que {who} nació|año del nacimiento de {who}|"
        "año de nacimiento de {who}",
        "death": "cuando murió/falleció la/el? {who}|cuando la/el? {who} murió/falleció|muerte de {who}|"
        "muriera/muriese {who}|{who} muriera/muriese|morir {who}|murió/falleció {who}|{who} murió/falleció",
        "death year": "año en? que murió {who}|año en? que {who} murió|año de la muerte de {who}",
        "0-1": "cuando {who} era todavía? un/una? bebé|{who} de bebé|{who} bebé",
        "1-9": "cuando {who} era todavía? muy? pequeño/pequeña/chico/chica|{who} de pequeño/pequeña",
        "0-12": "cuando {who} era todavía? un/una? niño/niña|{who} de niño/niña",
        "13-19": "cuando {who} era un/una? adolescente|{who} adolescente",
    },
)
