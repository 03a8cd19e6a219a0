"""How long the map takes to be laid: 5,000 made-up places, in headless Chromium.

`python benchmarks/map.py [--places N]` prints median and 95th percentile of the script's milliseconds for one
drawing: the world and a region, while they move (coarse coast) and at rest (fine coast where one is close). By the
clock, so other work counts in.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests" / "station"), str(ROOT / "tests" / "look")]

from named_box import opened  # noqa: E402
from page_checks import browser, open_page, window  # noqa: E402
from served import running  # noqa: E402

DRAWN = """async ([count]) => {
  let seed = 7;
  const dice = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
  const rows = Array.from({ length: count }, (_, i) => {
    const years = [[1900 + i % 90, 1 + i % 5]];
    return [`Place ${i}`, `/place/${i}`, dice() * 360 - 180, dice() * 150 - 70, 30 + dice() * 9000, years, 0];
  });
  const box = document.querySelector(".map-box");
  box.replaceChildren();
  const sheet = new MapSheet(box, rows);
  for (const [kind, name] of [["coarse", "110m"], ["fine", "50m"]]) {
    sheet.land[kind] = await landFrom(`/static/vendor/land-${name}.json`);
  }
  const timed = (view, moving) => {
    const times = [];
    for (let i = 0; i < 40; i += 1) {
      const began = performance.now();
      sheet.jump({ middle: [view.middle[0] + i, view.middle[1]], scale: view.scale }, moving);
      times.push(performance.now() - began);
    }
    times.sort((a, b) => a - b);
    return [times[20], times[37], sheet.marks.length];
  };
  const world = sheet.whole();
  return {
    "the world, moving": timed(world, true),
    "the world, at rest": timed(world, false),
    "a region of 1,500 km, moving": timed({ middle: [0, 50], scale: world.scale * 12 }, true),
    "a region of 1,500 km, at rest": timed({ middle: [0, 50], scale: world.scale * 12 }, false),
  };
}"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--places", type=int, default=5000)
    count = parser.parse_args().places
    with tempfile.TemporaryDirectory() as folder, browser() as chromium:
        os.environ["SOLANDER_GAZETTEER"] = str(Path(folder) / "none.db")
        with (
            opened(Path(folder) / "box") as bench,
            running(bench.app) as home,
            window(chromium, "desk") as page,
        ):
            open_page(page, f"{home}/map")
            page.wait_for_selector("[data-laid]")
            for what, (middle, late, marks) in page.evaluate(DRAWN, [count]).items():
                print(f"{what}: median {middle:.1f}, p95 {late:.1f} ms, {marks} marks", flush=True)


if __name__ == "__main__":
    main()
