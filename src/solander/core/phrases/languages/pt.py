"""Portuguese."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.romance import portuguese, portuguese_ordinals

__all__ = ["PORTUGUESE"]

PORTUGUESE = Language(
    code="pt",
    months=(
        "janeiro|jan .º|jan|janº|janro",
        "fevereiro|fev .º|fev|fevro|fev.º",
        "março|mar",
        "abril|abr",
        "maio|mai",
        "junho|jun",
        "julho|jul",
        "agosto|ago|agto",
        "setembro|set .º|set|setbro|7bro|7bre",
        "outubro|out|outbro|8bro",
        "novembro|nov .º|nov|novbro|9bro",
        "dezembro|dez .º|dez|dezbro|10bro",
    ),
    seasons=("primavera", "verão|férias de verão|férias grandes", "outono", "inverno"),
    weekdays=("segunda-feira", "terça-feira", "quarta-feira", "quinta-feira", "sexta-feira", "sábado", "domingo"),
    feasts={
        "ascension": "ascensão|quinta-feira da ascensão",
        "maundy thursday": "quinta-feira santa",
        "shrove monday": "segunda-feira de carnaval",
        "shrove tuesday": "terça-feira de carnaval|terça-feira gorda|terça de carnaval",
        "anthony": "santo antónio|santo antônio",
        "peter": "são pedro",
        "mothers day": "dia da mãe|dia das mães",
        "labour day": "dia do trabalhador|primeiro de maio",
        "all souls": "finados|dia de finados",
        "easter eve": "sábado de aleluia",
        "martinmas": "são martinho",
        "christmas~": "natal",
        "christmas": "dia de natal",
        "christmas eve": "véspera de natal|consoada",
        "new years eve": "véspera de ano novo|passagem de ano|réveillon|fim de ano",
        "new year": "ano novo|dia de ano novo",
        "epiphany": "reis|dia de reis",
        "shrove tuesday~": "carnaval|entrudo",
        "ash wednesday": "quarta-feira de cinzas",
        "palm sunday": "domingo de ramos",
        "good friday": "sexta-feira santa",
        "easter~": "páscoa",
        "easter": "domingo de páscoa",
        "whitsun~": "pentecostes",
        "corpus christi": "corpo de deus|corpus christi",
        "midsummer": "são joão",
        "portugal": "dia de portugal",
        "assumption": "assunção",
        "all saints": "todos os santos",
        "immaculate": "imaculada conceição",
    },
    events={
        "reinado de d. carlos|reinado de dom carlos": (("1889-10-19", "1908-02-01"),),
        "virada do século|viragem do século": (wars.TURN_OF_CENTURY,),
        "estado novo|salazarismo": (("1933-04-11", "1974-04-25"),),
        "25 de abril|revolução dos cravos": (("1974-04-25", "1974-04-25"),),
        "guerra colonial|guerra do ultramar": (("1961-02-04", "1974-04-25"),),
        "guerra da coreia": wars.KOREA,
        "guerra fria|guerra de|guerra da|guerra do|guerra civil": wars.OTHER,
        "guerra civil espanhola": wars.SPAIN,
        "fim da guerra|final da guerra": wars.END_OF_WAR,
        "guerra mundial": wars.THE_WAR,
        "implantação da república": (("1910-10-05", "1910-10-05"),),
        "entre guerras|entre as guerras": (wars.BETWEEN,),
        "a guerra|guerra": (wars.SECOND, wars.FIRST),
        "segunda guerra mundial|segunda guerra": (wars.SECOND,),
        "primeira guerra mundial|grande guerra|primeira guerra": (wars.FIRST,),
    },
    decades={
        20: "anos vinte",
        30: "anos trinta",
        40: "anos quarenta",
        50: "anos cinquenta",
        60: "anos sessenta",
        70: "anos setenta",
        80: "anos oitenta",
        90: "anos noventa",
    },
    decade_word="década dos|anos|década de",
    ordinal_endings="º|ª|°",
    numbers=portuguese(),
    hundreds={
        "mil oitocentos|mil e oitocentos": 1800,
        "mil novecentos|mil e novecentos": 1900,
        "dois mil": 2000,
    },
    hundred_joints="e",
    ordinals=portuguese_ordinals(),
    century="século",
    about="quase|por volta de|cerca de|ca|c|circa|aproximadamente|à volta de|lá para|mais ou menos|ali por|"
    "lá por|para aí|lá pelos|à roda de|coisa de",
    about_after="mais ou menos|aproximadamente|mais coisa menos coisa|mais ano menos ano|ou coisa assim|ou por aí|"
    "por aí|pouco mais ou menos|ou à volta disso|coisa menos coisa",
    maybe="acho que|acho que foi|creio que|parece-me que|parece-me|penso|julgo que|julgo|diria que|diria|"
    "suponho que|suponho|não tenho a certeza|não tenho certeza|não estou certa|não estou certo|"
    "não sei bem|não me lembro bem|não sei se|digamos|deve ser|deve ter sido|devia ser|pode ser|"
    "pode ter sido|se não me engano|se bem me lembro|se não estou em erro|não juro|não posso jurar|"
    "não punha as mãos no fogo|talvez fosse|imagino que|calculo que|penso que|creio|talvez|provavelmente|"
    "possivelmente|acho|se calhar",
    early="princípios dos|princípios de|inícios dos|inícios de|começo de|começos dos|começos de|início do|"
    "princípio de|primórdios de|início de|início dos|princípio dos|no início dos|começo dos",
    mid="meados do|em meados de|em meados do|meados de|meados dos|em meados dos",
    late="fins dos|fins de|fins do|em fins de|nos fins de|final de|final do|em finais de|fim do|fim de|"
    "fim dos|finais dos|final dos|no fim dos|finais de",
    between="entre",
    both="e",
    either="ou",
    to="ao|a|até",
    before="pré-|antes que|antes de|antes da|antes do",
    after="pós-|depois que|depois de|após|depois da|depois do",
    until="carimbo postal|carimbo dos correios|até ao|o mais tardar em|até|não depois de|o mais tardar",
    since="desde|a partir de|não antes de",
    or_before="ou antes",
    or_after="ou depois",
    during="durante|durante a",
    week_of="semana de|semana",
    lab="revelado|revelada",
    correction="não minto|minto|não espera|espera|espere|não não|ai não|enganei-me|estou enganada|estou enganado|"
    "que digo eu|o que é que eu digo|quero dizer|ou melhor|ou antes não|perdão|corrijo|mas sim|"
    "não é isso|não|aliás|desculpe|quer dizer",
    filler="hum|pelos|o|a|os|as|de|do|da|dos|em|no|na|nos|ano|dia|mas|ai|ah|ora|que|pois|bem|oh|então|olha",
    first_half="primeira metade dos|primeira metade da|primeira metade de|primeira metade do",
    second_half="segunda metade dos|segunda metade da|segunda metade de|segunda metade do",
    was="era|foi|é|isto foi|isso foi|isto é|terá sido|seria|fosse",
    streets="rua|praça|avenida|largo|ponte|travessa",
    labels="n . º|n º|nº|n°|n .|núm .|número|neg .|negativo|chapa|página|pág .|tel .|telefone|telef .|lote|"
    "quarto|comboio|trem|bl .|modelo|série",
    hours="h|horas|hs|hrs",
    clock="às|das|pelas|até às|as",
    of_another="carta de|cópia de|copiada em|copiado em|recebida em|restaurada em|digitalizada em",
    born="n .|nasc .|nascido|nascida|nasceu em|nascido em|nascida em|nascida a|nascido a|falecido|falecida|"
    "faleceu em|( n|m . em",
    framing="em|no ano|ano|no ano de|o ano de|por volta de|foi em|era em|foi no ano|lá para|lá por|ali por|desde|"
    "até|antes de|depois de|isto é de|isto foi em|isto foi|seria em|seria|terá sido em|devia ser em|é de|"
    "de mil novecentos e|isso foi em|para|ou em",
    framed_by="foi|seria|era|devia ser",
    clauses="quando|que|com|nós|eu|ele|ela|minha|meu|nossa|nosso|fomos|estávamos|tínhamos|ainda|no|na|antes|"
    "depois|porque|em casa",
    something="e tal|e tantos|e picos|e qualquer coisa|e poucos|e troca o passo",
    denial="não|não em|não foi em|não é",
    units={"year": "ano|anos|aninhos", "month": "mês|meses", "week": "semana|semanas", "day": "dia|dias"},
    many="anos|meses|semanas|dias",
    few={"uns|umas|alguns|algumas|poucos|poucas|vários": (2, 5), "um par de": (2, 3)},
    just="pouco|logo|um pouco|imediatamente|pouco tempo",
    nearest="último|última|próximo|próxima|seguinte",
    own="seus|suas|meus|minhas|sua",
    lives={
        "birthday year": "ano em? que a/o? {who} fez {age}",
        "age": "quando a/o? {who} tinha só/apenas? {age}|{who} tinha {age}|{who} com {age}|{who} aos {age}|"
        "{who} de {years}|{who} {years}|{who} na/à idade de {age}|{who} tem {years}",
        "birthday": "{who} no seu {nth} aniversário|quando a/o? {who} fazia {age}|{who} fazia {age}|"
        "{who} completou {age}|{who} ao? completar {age}|"
        "{nth} aniversário da/do/de {who}|quando a/o? {who} fez {age}|{who} fez {age}",
        "birthday in": "aniversário da/do/de {who} em? {year}",
        "birth": "quando a/o? {who} nasceu|quando nasceu a/o? {who}|nascimento da/do/de {who}|a/o? {who} nascer|"
        "a/o? {who} nascesse|{who} nasceu|nasceu a/o? {who}|dia em que a/o? {who} nasceu",
        "birth year": "ano em? que a/o? {who} nasceu|ano em? que nasceu a/o? {who}|"
        "ano do/de nascimento da/do/de {who}",
        "death": "quando a/o? {who} morreu/faleceu|quando morreu/faleceu a/o? {who}|morte da/do/de {who}|"
        "a/o? {who} morrer|a/o? {who} morresse|{who} morreu/faleceu",
        "death year": "ano em? que a/o? {who} morreu/faleceu|ano em? que morreu a/o? {who}|"
        "ano da morte da/do/de {who}",
        "0-1": "quando a/o? {who} era ainda? um/uma? bebé/bebê|{who} bebé/bebê|{who} em bebé/bebê",
        "1-9": "quando a/o? {who} era ainda? pequeno/pequena|{who} em pequeno/pequena",
        "0-12": "quando a/o? {who} era ainda? uma? criança|quando a/o? {who} era menino/menina|{who} em criança",
        "13-19": "quando a/o? {who} era um/uma? adolescente|{who} adolescente",
    },
)
