"""How well and how quickly people are found by what is said, in invented trees.

    python benchmarks/find_people.py --people 10000 --each 100

Prints, for each kind of case, the part found first and among the first five, how many were understood without a
question and how many of these wrongly; then processor times of a look-up on one thread, each word new to the
finder. Where names and corruptions come from is told in `tests/authorities/invented_people.py`. `--wrong` names
the cases not found first.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "authorities"))

from invented_people import Case, Examiner, Tree, tree

from solander.authorities.naming import Candidate, Finder, Seen, understood
from solander.core.dates import parse_edtf


def main() -> None:
    """Measure and print everything."""
    options = _options()
    grown = tree(options.seed, options.people)
    began = time.process_time()
    finder = Finder(grown.people, grown.family)
    laid_out = time.process_time() - began
    answers = _answers(finder, grown, options)
    for kind in [*dict.fromkeys(case.kind for case, _, _ in answers), ""]:
        _say(kind, [each for each in answers if kind in ("", each[0].kind)])
    times = sorted(seconds * 1000 for _, _, seconds in answers)
    print(
        f"{len(grown.sitters)} people, {len(finder.index.vocabulary.words)} words of names; index {laid_out:.1f} s"
    )
    print(f"a look-up: median {times[len(times) // 2]:.1f} ms, p95 {times[int(len(times) * 0.95)]:.1f} ms")
    if options.wrong:
        for case, candidates, _ in answers:
            if [each.person.name for each in candidates[:1]] != [case.meant]:
                found = [each.person.name for each in candidates[:3]]
                print(f"{case.kind}: {case.said} is {case.meant}; found {found}")


_Answer = tuple[Case, tuple[Candidate, ...], float]


def _answers(finder: Finder, grown: Tree, options: argparse.Namespace) -> list[_Answer]:
    found: list[_Answer] = []
    for case in Examiner(grown, options.seed + 1).cases(options.each):
        seen = Seen(case.by or None, parse_edtf(case.on).bounds())
        finder.index.forget()
        began = time.process_time()
        candidates = finder.find(case.said, seen)
        found.append((case, candidates, time.process_time() - began))
    return found


def _say(kind: str, answers: list[_Answer]) -> None:
    told: Counter[str] = Counter()
    for case, candidates, _ in answers:
        names = [each.person.name for each in candidates]
        clear = understood(candidates)
        told["first"] += names[:1] == [case.meant]
        told["five"] += case.meant in names[:5]
        told["clear"] += clear is not None
        told["wrong"] += clear is not None and clear.person.name != case.meant
    count = len(answers)
    found = f"first {told['first'] / count:6.1%}   in five {told['five'] / count:6.1%}"
    clear = f"without a question {told['clear'] / count:6.1%}, wrongly {told['wrong']}"
    print(f"{kind or 'all':18} {count:5}   {found}   {clear}")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--people", type=int, default=10_000)
    parser.add_argument("--each", type=int, default=40, help="cases of each kind")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--wrong", action="store_true", help="name the cases not found first")
    return parser.parse_args()


if __name__ == "__main__":
    main()
