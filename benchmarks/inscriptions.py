"""How well inscriptions are read: real lines beside the project, simulated backs, simulated borders.

    python benchmarks/inscriptions.py --judge --backs 120 --fonts FOLDER

Real lines (`shared/data/handwriting`, CC BY 4.0, stays outside the project) give the character error rate: letters
to insert, delete or change over letters of the truth, apostrophes alike. How wide lines are made was chosen on the
same lines, so the two halves that are told apart tell how much the figure varies, no more. Simulated backs say
whether writing is noticed and whether dates on stamps and proposed facts are right; their hands are typefaces
(OFL; to judge, those of FOLDER, taken from the packages fontpkg-kalam, fontpkg-indie-flower,
fontpkg-dancing-script and handwriting-generator), so they say nothing about handwriting. Each figure stands
beside its target, with a "!" where it isn't kept. `--show` tells what was wrong.
"""

from __future__ import annotations

import argparse
import csv
import time
from collections import Counter
from pathlib import Path

import cv2
import numpy as np
from rapidfuzz.distance import Levenshtein

from made_backs import Back, Typefaces, made_back, made_front
from solander.imaging.backs import looks_like_written_back
from solander.imaging.decode import decode
from solander.imaging.legibility import flattened
from solander.reading.inscriptions.engine import NetworkReader
from solander.tasks.inscription import Readers, Written, lookups, read_back, read_front

HANDWRITING = Path(__file__).resolve().parents[2] / "shared" / "data" / "handwriting"
FIRST_SEED = {"tune": 1_000, "judge": 50_000}
WHO = Readers(NetworkReader())


def main() -> None:
    """Measure and print everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--judge", dest="which", action="store_const", const="judge", default="tune")
    parser.add_argument("--backs", type=int, default=40, help="written ones, and as many blank ones and fronts")
    parser.add_argument(
        "--first", type=int, help="the first seed: to judge, one that nobody has seen what it gives"
    )
    parser.add_argument("--fonts", type=Path, help="a folder of typefaces for hands, to judge with")
    parser.add_argument("--only", choices=("lines", "backs", "fronts"), help="measure these alone")
    parser.add_argument("--show", action="store_true")
    options = parser.parse_args()
    options.first = options.first or FIRST_SEED[options.which]
    cv2.setNumThreads(1)
    faces = Typefaces.of(options.which, options.fonts)
    if options.only in (None, "lines"):
        _real_lines(options.show)
    if options.only in (None, "backs"):
        _backs(options, faces)
    if options.only in (None, "fronts"):
        _fronts(options, faces)


def _row(what: str, figure: float, target: float, *, most: bool = False, of: str = "") -> None:
    kept = figure <= target if most else figure >= target
    print(
        f"{what:46} {figure:6.1f} %  target {'≤' if most else '≥'} {target:g} %{'' if kept else ' !'}  {of}",
        flush=True,
    )


def _real_lines(show: bool) -> None:
    if not HANDWRITING.is_dir():
        print("real lines: shared/data/handwriting is not beside the project")
        return
    with (HANDWRITING / "lines.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    wrong: Counter[str] = Counter()
    letters: Counter[str] = Counter()
    trusted, right = 0, 0
    began = time.process_time()
    for place, row in enumerate(rows):
        rgb = decode(HANDWRITING / row["file"])
        one, other = WHO.lines.read([rgb, flattened(rgb)])
        best = max(one, other, key=lambda read: read.sure)
        distance = Levenshtein.distance(_alike(best.text), _alike(row["text"]))
        for name in ("hand" if row["kind"] == "hand" else "typed and printed",):
            for key in (name, f"{name}, {('one half', 'other half')[place % 2]}"):
                wrong[key] += distance
                letters[key] += len(row["text"])
        if one.text == other.text and best.sure >= 0.9:
            trusted += 1
            right += distance <= 1
        if show and distance:
            print(f"    {row['file']} {best.sure:.2f} “{best.text}” for “{row['text']}”")
    spent = (time.process_time() - began) / len(rows)
    for key, target in (("typed and printed", 5), ("hand", 36), ("hand, one half", 36), ("hand, other half", 36)):
        _row(f"real lines, {key}: character errors", 100 * wrong[key] / letters[key], target, most=True)
    print(f"of {trusted} lines that both looks gave alike, 90 % sure: {right} have one wrong letter at most")
    print(f"processor time a line, both looks: {1000 * spent:.0f} ms")


def _alike(text: str) -> str:
    return text.replace("’", "'").replace("‘", "'")


def _backs(options: argparse.Namespace, faces: Typefaces) -> None:
    known, first = lookups(), options.first
    noticed: list[bool] = []
    alarmed: list[bool] = []
    seen: list[bool] = []
    turns: Counter[str] = Counter()
    years: Counter[str] = Counter()
    facts: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    times: list[float] = []
    printed: list[bool] = []
    for seed in range(first, first + options.backs):
        back = made_back(seed, faces)
        printed.append(bool(back.printed))
        began = time.process_time()
        found = read_back(back.rgb, WHO, known)
        times.append(time.process_time() - began)
        if back.written or back.stamped:
            noticed.append(found.inscription.is_written)
            seen.append(looks_like_written_back(back.rgb) >= 0.5)
        turns[_turn(found, back)] += 1
        _score(found, back, years=years, facts=facts, wrong=wrong, show=options.show, seed=seed)
        blank = made_back(seed, faces, blank=True)
        told = read_back(blank.rgb, WHO, known)
        alarmed.append(told.inscription.is_written)
        if options.show and told.inscription.is_written:
            print(f"    blank {seed}: {[(one.text, round(one.sure, 2)) for one in told.inscription.lines]}")
    count = f"of {len(noticed)}"
    _row("simulated backs: writing noticed", 100 * np.mean(noticed), 98, of=count)
    _row("simulated backs: false on blank ones", 100 * np.mean(alarmed), 2, most=True, of=f"of {len(alarmed)}")
    print(f"  (by strokes alone, imaging.backs: noticed {100 * np.mean(seen):.1f} %)")
    _row("simulated stamps: dates right", _share(years, "right", "missed", "wrong"), 85, of=str(dict(years)))
    _row("simulated backs: proposed facts right", _share(facts, "right", "wrong"), 95, of=str(dict(facts)))
    print(f"  wrong by kind: {dict(wrong)}; which way up: {dict(turns)}")
    usual, slow = np.quantile(times, [0.5, 0.95])
    print(f"  processor time a back: median {usual:.2f} s, 95 % {slow:.2f} s (target ≤ 1.5 s)")
    of_print = [spent for spent, is_printed in zip(times, printed, strict=True) if is_printed]
    if of_print:
        usual, most = np.median(of_print), max(of_print)
        print(f"  of {len(of_print)} that a paper maker printed on: median {usual:.2f} s, most {most:.2f} s")


def _share(counts: Counter[str], right: str, *others: str) -> float:
    return 100 * counts[right] / max(1, counts[right] + sum(counts[other] for other in others))


def _turn(found: Written, back: Back) -> str:
    if found.turn is None:
        return "not told"
    return "right" if (found.turn + back.turned) % 4 == 0 else "wrong"


def _score(
    found: Written,
    back: Back,
    *,
    years: Counter[str],
    facts: Counter[str],
    wrong: Counter[str],
    show: bool,
    seed: int,
) -> None:
    proposed = {(fact.kind.value, fact.value) for fact in found.facts}
    for fact in proposed:
        is_right = fact in back.facts
        facts["right" if is_right else "wrong"] += 1
        if not is_right:
            wrong[fact[0]] += 1
    facts["missed"] += len(back.facts - proposed)
    if back.stamp_date:
        told = {value for kind, value in proposed if kind == "printing"}
        years["right" if back.stamp_date in told else "wrong" if told else "missed"] += 1
    if show and proposed != back.facts:
        print(f"    {seed}: {back.written + back.stamped} {back.printed}; read {found.inscription.text!r}")
        print(f"      too much {sorted(proposed - back.facts)}, missed {sorted(back.facts - proposed)}")


def _fronts(options: argparse.Namespace, faces: Typefaces) -> None:
    known, first = lookups(), options.first
    dates: Counter[str] = Counter()
    false, without = 0, 0
    times: list[float] = []
    for seed in range(first, first + options.backs):
        front = made_front(seed, faces)
        began = time.process_time()
        found = read_front(front.rgb, WHO, known)
        times.append(time.process_time() - began)
        told = found.border.date.edtf if found.border.date else ""
        if front.date:
            dates["right" if told == front.date else "wrong" if told else "missed"] += 1
        else:
            without += 1
            false += bool(told)
        if options.show and told != front.date:
            read = [(one.text, one.also, round(one.sure, 2)) for one in found.border.lines]
            print(f"    front {seed}: {front.date} told {told!r}, {read}")
    _row("simulated borders: dates found", _share(dates, "right", "missed", "wrong"), 85, of=str(dict(dates)))
    _row("simulated borders: dates wrong", _share(dates, "wrong", "missed", "right"), 5, most=True)
    print(
        f"  dates told where there is none: {false} of {without}; processor time a front: {np.median(times):.2f} s"
    )


if __name__ == "__main__":
    main()
