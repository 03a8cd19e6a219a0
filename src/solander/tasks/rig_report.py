"""The report of a stand, worded and drawn from what was measured."""

from __future__ import annotations

from pathlib import Path

from solander.core.dates import Dated
from solander.core.errors import CannotBegin
from solander.core.language import _, marked, told
from solander.core.levels import FADGI, FIGURE_NAMES, ISO, Figure, Judged
from solander.core.sentence import Sentence
from solander.delivery.plots import Plot, colour_plot, curve_plot, light_plot, tone_plot
from solander.tasks.rig_told import Told

__all__ = ["CAUTIONS", "day_of", "judgement_words", "plots_of", "refuse_report", "rows_of", "write_report"]

CAUTIONS = (
    marked("A chart fades and gets greasy: keep it in the dark, never touch it, renew it every few years."),
    marked("A patch that shines in the lamp's mirror image tells a wrong colour: light from the sides, at 45°."),
    marked("Window and lamp together can't be put right: use one kind of light, of a colour rendering index (CRI) "
           "of 90 or more."),
)  # fmt: skip
"""What no figure tells."""


def write_report(report: Told, file: Path) -> None:
    """Writes the report; the file's ending, .html or .pdf, tells its form.

    Raises
    ------
    CannotBegin
        When it has another ending, or something lies there, or it can't be written.
    """
    # Loaded only when it is needed: drawing takes a tenth of a second to load.
    from solander.delivery.rig_report import ReportSheet, report_html, report_pdf

    refuse_report(file)
    sheet = ReportSheet(
        title=_("The stand, measured on %(day)s", day=day_of(report.made)),
        above=(*_above(report), *map(judgement_words, report.judgements)),
        heads=(_("What"), _("Measured"), FADGI.name, ISO.name),
        rows=rows_of(report),
        advice_head=_("What to do, the step that gains most first"),
        advice=tuple(map(told, report.advice)),
        plots=plots_of(report),
        below=tuple(_(one) for one in CAUTIONS),
    )
    try:
        with file.open("xb") as out:
            out.write(report_pdf(sheet) if file.suffix.lower() == ".pdf" else report_html(sheet).encode())
    except FileExistsError as error:
        raise _not_written(file, Sentence("something is there already"), Sentence("Give another name")) from error
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        todo = Sentence("Check the folder's name and that you may write there")
        raise _not_written(file, why, todo) from error


def refuse_report(file: Path) -> None:
    """Refuses a name that no report can have, before there is any work for it.

    Raises
    ------
    CannotBegin
        When it has another ending, something lies there, or there is no such folder.
    """
    if file.suffix.lower() not in (".html", ".pdf"):
        raise _not_written(file, Sentence("its name ends neither in .html nor in .pdf"), Sentence("Name it so"))
    if file.exists():
        raise _not_written(file, Sentence("something is there already"), Sentence("Give another name"))
    if not file.parent.is_dir():
        raise _not_written(file, Sentence("there is no such folder"), Sentence("Check the folder's name"))


def _not_written(file: Path, why: str, todo: Sentence) -> CannotBegin:
    return CannotBegin(Sentence("The report was not written to %(file)s", file=file), why, todo)


def day_of(made: str) -> str:
    """The day of a time in UTC (`2026-11-26 12:00 UTC`, or the day alone), as the reader's language writes it."""
    return str(told(Dated(made[:10])))


def rows_of(report: Told) -> tuple[tuple[str, str, str, str], ...]:
    """Each figure: its name, value with unit, level by FADGI and by ISO; "–" where none is published."""
    fadgi, iso = report.judgements
    rows = []
    for name, value in report.figures.items():
        figure = Figure(name)
        title, unit = FIGURE_NAMES[figure]
        unit = unit if "%" in unit else _(unit)
        rows.append((_(title), f"{value:.3g} {unit}", _level(fadgi, figure), _level(iso, figure)))
    return tuple(rows)


def plots_of(report: Told) -> tuple[Plot, ...]:
    """Those that the pictures give."""
    plots = []
    if report.tone:
        plots.append(tone_plot(_("Greys: measured over published lightness"), report.tone))
    if report.curves:
        plots.append(curve_plot(_("Contrast of finer and finer detail (cycles a pixel)"), report.curves))
    if report.cells:
        plots.append(light_plot(_("Light over the stage, of the brightest place"), report.cells))
    if report.colours:
        plots.append(colour_plot(_("Patches as captured, with their colour error (ΔE2000)"), report.colours))
    return tuple(plots)


def judgement_words(judged: Judged) -> str:
    """The level, what decides, what was not measured and the source, as a sentence."""
    scheme, source = judged.scheme.name, _(judged.scheme.source)
    if judged.level is None:
        return _("%(scheme)s: nothing of it was measured.", scheme=scheme)
    told = _(
        "%(scheme)s: %(level)s, decided by %(figures)s.",
        scheme=scheme, level=_(judged.name), figures=_names(judged.decides),
    )  # fmt: skip
    if judged.unmeasured:
        told += " " + _("Not measured, and not claimed: %(figures)s.", figures=_names(judged.unmeasured))
    return told + " " + _("Source: %(source)s.", source=source)


def _names(figures: tuple[Figure, ...]) -> str:
    return "; ".join(_(FIGURE_NAMES[figure][0]) for figure in figures)  # the names have commas


def _level(judged: Judged, figure: Figure) -> str:
    return _(judged.scheme.name_of(judged.each[figure])) if figure in judged.each else "–"


def _above(report: Told) -> list[str]:
    sentences = [f"{name}: {', '.join(_(one) for one in shows)}." for name, shows in report.pictures]
    if report.edition:
        sentences.append(
            _("The chart is of the edition made before November 2014: its table fits better.")
            if report.edition == "before"
            else _("The chart is of the edition made after November 2014: its table fits better.")
        )
    if report.error_after is not None:
        after, before = f"{report.error_after:.2f}", f"{report.error_before:.2f}"
        sentences.append(
            _("With the stand's profile the mean colour error of the chart is %(after)s instead of %(before)s "
              "(ΔE2000; told by the same patches).", after=after, before=before)
        )  # fmt: skip
    return sentences
