"""What waits until hands are off the print, and what becomes of it when it goes wrong."""

from __future__ import annotations

from types import SimpleNamespace

from solander.tasks import stand_after
from solander.tasks.stand_after import Afterwards


def test_a_fault_with_one_print_leaves_the_next_its_turn(monkeypatch, capsys) -> None:
    looked = []

    def turning(collection, act, new) -> None:
        looked.append(new)
        if new == ["P-0001"]:
            raise ZeroDivisionError("of ours")

    monkeypatch.setattr(stand_after, "turn_as_neighbours", turning)
    for later in ("ask_about_duplicates", "look_at_new_prints", "ask_about_contradictions"):
        monkeypatch.setattr(stand_after, later, lambda *_, **__: None)
    collection = SimpleNamespace(catalogue=SimpleNamespace(listed_of=set))
    after = Afterwards(collection, quiet_s=0.0)  # type: ignore[arg-type]
    for number in (1, 2):
        after.add(SimpleNamespace(number=number), [f"P-000{number}"])  # type: ignore[arg-type]
        if (working := after._thread) is not None:
            working.join(20)
    assert looked == [["P-0001"], ["P-0002"]]
    assert "of ours" in capsys.readouterr().err
