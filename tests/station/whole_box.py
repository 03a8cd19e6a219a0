"""A small real collection in which every page has something to show: prints with pictures, backs and faces, people
and kin, places, an occasion, containers, what waits and what was done."""

from __future__ import annotations

import sys
from pathlib import Path

from named_box import KIN, PEOPLE, PLACES

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from scripted_faces import ScriptedReader, draw_print, said_yes
from written_box import GREEN, RED, a_back, add_written, bar_readers

from solander.core.prints import Side
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.occasions import make_occasion
from solander.tasks.print_desk import PrintDesk
from solander.tasks.read_collection import read_collection
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed

__all__ = ["OCCASION", "whole_collection"]

OCCASION = "Die Überfahrt nach Trzcianna pod Wzgórzem"
SLIPS = """\
file;side;date;place;people;caption;occasion
0.png;recto;summer 58;Vessholm;Ingrid Sollihøgda;By the boathouse;
1.png;recto;between Whitsun 1936 and the war;Rohrbach;Mormor;;
2.png;recto;7 May 1945;Vessholm;Nils Sollihøgda;;
3.png;recto;a Sunday;Leningrad;Anna Weber;;
"""


def whole_collection(root: Path) -> Path:
    """The collection's folder."""
    captures = root / "captures"
    for number, people in enumerate((("red", "green"), ("blue", "red"), ("violet", "green"), ("red", "blue"))):
        draw_print(captures / f"{number}.png", *people, seed=number)
    (root / "slips.csv").write_text(SLIPS, encoding="utf-8")
    with Collection.create(root / "collection", title="The Sollihøgda boxes") as collection:
        with collection.catalogue.act("test", "named people and places") as act, act.work() as work:
            work.enter_people([(person, ()) for person in PEOPLE])
            work.keep_kin(*KIN)
            for place in PLACES:
                work.keep_place(place)
            work.commit()
        accession(collection, [captures], container="B2/E5", slips=root / "slips.csv")
        look_for_faces(said_yes(collection), reader=ScriptedReader())
        numbers = [one.accession for one in collection.catalogue.prints()]
        make_occasion(collection, OCCASION, numbers[:2], date="August 1958", place="Vessholm")
        desk = PrintDesk(Shown(collection))
        desk.say(Typed(numbers[0], Field.DATE, "1931", by="Aunt Signe"))
        desk.say(Typed(numbers[0], Field.NOTE, "The jetty was rebuilt in 1955."))
        add_written(collection, root / "scans", a_back(RED, GREEN), container="B9")
        read_collection(collection, who=bar_readers, sides=(Side.VERSO,))
    return root / "collection"
