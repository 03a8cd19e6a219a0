"""The desk of one treatment: the list as a person is changing it, how the print would look, and keeping it.

What is tried is nowhere written. The view at screen size and the few pictures tried last are held in memory, so
that a change is seen at once.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from threading import Lock, Thread

from attrs import define, evolve, field, frozen

from solander.core.errors import Trouble
from solander.core.language import marked
from solander.core.prints import Print, View
from solander.core.sentence import Sentence
from solander.core.treatments import Step, Treatment
from solander.engine.local import local_executor
from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.decode import decode
from solander.imaging.encode import encode_jpeg
from solander.imaging.treatment.preview import IN_FULL_SIZE, Preview
from solander.imaging.treatment.treat import treat
from solander.tasks.collection import Collection, Progress
from solander.tasks.measured_step import Place, faces_in, grid_in, measured_step
from solander.tasks.pictures_named import NAMED, pictures_named
from solander.tasks.sitting import Sitting
from solander.tasks.step_with_picture import step_with_picture
from solander.tasks.treat import Refused, Treated, Wish, give, prints_in, set_treatment, wishes_of
from solander.tasks.treated import untreated_paths, untreated_pixels
from solander.tasks.treatment_proposals import Proposed, accept, look_for_treatments

__all__ = ["SCREEN", "Seen", "TreatmentDesk"]

SCREEN = 1600
"""Pixels of the longer side at which a change is shown: two beside each other fill a 13-inch screen twice over."""

VIEWS, TRIED = 2, 8
"""Views held at once (30 MB each at 12 megapixels), and pictures tried last."""


AT_ONCE = 12
"""Prints that are measured while one waits, a second each at most; more are beside all else."""


@frozen
class Seen:
    """How a view would look: a JPEG, and the share (0–1) of it that is driven beyond what can be shown."""

    jpeg: bytes = field(repr=False)
    clipped: float


@define
class _Open:
    """A view that is being treated: its pixels, and what was measured on them."""

    pixels: Rgb
    measured: dict[tuple[str, Place | None], Step] = field(factory=dict)
    previews: dict[str, Preview] = field(factory=dict)


@define
class TreatmentDesk:
    """Treatments of one collection, one view at a time."""

    collection: Collection
    sitting: Sitting
    looking: Progress | None = field(default=None, init=False)
    """How far one is looking what would gain by a treatment; None where nobody is."""
    trouble: str = field(default="", init=False)
    """Why the last look ended early; empty where it did not."""
    giving: Progress | None = field(default=None, init=False)
    """How far one is giving a treatment to other prints; None where nobody is."""
    given: Treated | None = field(default=None, init=False)
    """What came of the last such giving that took long."""
    _open: OrderedDict[str, _Open] = field(factory=OrderedDict, init=False)
    _tried: OrderedDict[tuple[str, str], Seen] = field(factory=OrderedDict, init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def view(self, key: str) -> tuple[str, View]:
        """The view in use of that key, with its print's number.

        Raises
        ------
        NotFound
            When there is none.
        """
        return self.collection.catalogue.view(key)

    def begun(self, key: str, name: str, place: Place | None = None) -> Step:
        """The step of that kind as this view tells it.

        Raises
        ------
        Trouble
            When it does not.
        """
        view = self.view(key)[1]
        with self._lock:
            opened = self._opened(view)
            if (name, place) not in opened.measured:
                opened.measured[name, place] = self._measured(opened, view, name, place)
            return opened.measured[name, place]

    def seen(self, key: str, treatment: Treatment) -> Seen:
        """How the view would look with that treatment, at screen size.

        Raises
        ------
        Trouble
            When a step can't be done.
        """
        view = self.view(key)[1]
        with self._lock:
            tried = self._tried.get((key, treatment.key))
            if tried is None:
                tried = self._tried[key, treatment.key] = self._try(view, treatment)
                while len(self._tried) > TRIED:
                    self._tried.popitem(last=False)
            return tried

    def keep(self, key: str, treatment: Treatment) -> Treated:
        """Gives the view that treatment, in one act."""
        done = set_treatment(self.collection, key, treatment)
        self.sitting.noted(done.act)
        return done

    def give_others(self, key: str, container: str) -> Treated | None:
        """Gives the other prints of a container what can be given of a view's treatment, in one act; None where
        they are so many that this goes on beside all else (`giving`, then `given`).

        Raises
        ------
        NotFound
            When there is no such view or container.
        """
        accession, view = self.view(key)
        prints = [one for one in prints_in(self.collection, containers=[container]) if one.accession != accession]
        wishes = wishes_of(view.treatment)
        if len(prints) <= AT_ONCE or all(wish.parameters is not None for wish in wishes):
            return self.sitting.kept(give(self.collection, prints, wishes))
        with self._lock:
            if self.giving is None:
                self.giving, self.given = Progress("Treating", "", 0, len(prints)), None
                Thread(target=self._give, args=(prints, wishes), name="gives a treatment", daemon=True).start()
        return None

    def _give(self, prints: Sequence[Print], wishes: Sequence[Wish]) -> None:
        def watch(progress: Progress) -> None:
            self.giving = progress

        try:
            self.given = self.sitting.kept(give(self.collection, prints, wishes, watch=watch))
        except Trouble as trouble:
            self.given = Treated(None, (), tuple(Refused(one.accession, trouble.sentence) for one in prints))
        finally:
            self.giving = None

    def seen_small(self, key: str, treatment: Treatment) -> bytes:
        """The small picture as it would look, without the steps that need every pixel: there they show nothing.

        Raises
        ------
        Trouble
            When the view's picture can't be made.
        """
        small = decode(untreated_paths(self.collection, self.view(key)[1])[1])
        steps = [step for step in treatment.applied if step.name not in (*IN_FULL_SIZE, "output")]
        return encode_jpeg(treat(small, steps).picture, quality=85)

    def accept(self, proposed: Sequence[Proposed]) -> Treated:
        """Gives these prints what is proposed for them, in one act.

        Raises
        ------
        Trouble
            When none of them can have it.
        """
        done = accept(self.collection, proposed)
        if done.refused and not done.prints:
            raise Trouble(Sentence("Nothing was treated"), done.refused[0].why, Sentence("Look at it again"))
        return self.sitting.kept(done)

    def accept_dark(self, proposed: Proposed, place: Place | None) -> Treated:
        """Gives a print what is proposed, its dyes brought back as the place tells that was a neutral dark.

        Raises
        ------
        Trouble
            When no place was picked, or it does not tell.
        """
        if place is None:
            raise Trouble(
                Sentence("No place is picked yet"), "", Sentence("Click the untreated print, or say where")
            )
        fading = self.begun(proposed.view.key, "fading", place)
        told = proposed.treatment.without("neutral").with_step(fading)
        return self.accept([evolve(proposed, treatment=told)])

    def look(self) -> None:
        """Begins to look which prints would gain by a treatment, beside all else that the workbench does."""
        with self._lock:
            if self.looking is not None:
                return
            self.looking, self.trouble = Progress(marked("Looking what would gain"), "", 0, None), ""
        Thread(target=self._look, name="looks what would gain", daemon=True).start()

    def _look(self) -> None:
        try:
            with local_executor() as executor:
                prints = self.collection.catalogue.prints()
                look_for_treatments(self.collection, prints, executor=executor, watch=self._watch)
        except Trouble as trouble:
            self.trouble = trouble.sentence
        finally:
            self.looking = None

    def _watch(self, progress: Progress) -> None:
        self.looking = progress

    def _measured(self, opened: _Open, view: View, name: str, place: Place | None) -> Step:
        if name in NAMED:
            return step_with_picture(self.collection, view, name)
        faces, grid = faces_in(self.collection, view), grid_in(view)
        return measured_step(opened.pixels, name, place=place, faces=faces, grid=grid)

    def _try(self, view: View, treatment: Treatment) -> Seen:
        opened = self._opened(view)
        named = repr([step.parameters for step in treatment.applied if step.name in NAMED])
        if named not in opened.previews:  # a second capture takes a second to be laid beside the view
            others = pictures_named(self.collection, view, treatment.applied)
            opened.previews[named] = Preview(opened.pixels, long_side=SCREEN, others=others)
        try:
            shown = opened.previews[named].shown(treatment.applied)
        except WrongPicture as reason:
            raise Trouble(
                Sentence("That can't be shown"), str(reason), Sentence("Change the last step")
            ) from reason
        return Seen(encode_jpeg(shown.picture, quality=85), shown.clipped)

    def _opened(self, view: View) -> _Open:
        if view.key not in self._open:
            self._open[view.key] = _Open(untreated_pixels(self.collection, view))
            while len(self._open) > VIEWS:
                self._open.popitem(last=False)
        self._open.move_to_end(view.key)
        return self._open[view.key]
