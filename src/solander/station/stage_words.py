"""What the stage tells, as sentences in the reader's language: its state, why nothing is taken, the light, the
camera."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from solander.core.language import _, marked, number_words

__all__ = ["REFUSED", "across_words", "held_words", "light_words", "missing_words", "ppi_words", "watched_words"]

_STATES = {
    "empty": marked("Lay a print down."),
    "arriving": marked("Something moves."),
    "hand": marked("A hand is in the picture."),
    "settled": marked("The print lies still."),
    "taken": marked("Taken. Lay the next one down."),
    "leaving": marked("The print goes."),
    "resting": marked("The camera rests. Press a key to go on."),
}
_WAITS = marked("Leave it for a moment, it is being taken.")

_WHY = {
    "hand": marked("A hand is in the picture. Let go of the print."),
    "moving": marked("Something moves. The print is taken when all lies still."),
    "not-sharp": marked("The picture is not sharp. Wait for the camera, or touch the print in its picture."),
    "glare": marked("Glare on the print. Turn the lamp or the print a little."),
    "dark": marked("It is too dark. Bring more light."),
    "two-prints": marked("More than one print lies there. Leave one, or press “Take it now” for all of them."),
    "taken-before": marked("This print was taken before. Press “Take it now” to take it once more."),
    "not-good": marked("The picture is not good. Press “Take it again”."),
    "no-still": marked("The picture has not come from the camera yet."),
}
_WHERE = {
    "top edge": marked("at the top edge"),
    "right edge": marked("at the right edge"),
    "bottom edge": marked("at the bottom edge"),
    "left edge": marked("at the left edge"),
}
_WHY_WHERE = {
    "hand": marked("A hand is in the picture, %(where)s. Let go of the print."),
    "glare": marked("Glare %(where)s. Turn the lamp or the print a little."),
}
_LIGHT = {
    "drift": marked("The light has changed. Show the empty stage once more."),
    "flicker": marked("The light flickers. Use another lamp, or daylight from the side."),
    "daylight": marked("Daylight changes the colours. Draw the curtains, or show the empty stage now and then."),
}
_HELD = {
    "exposure": marked("exposure"),
    "white-balance": marked("white balance"),
    "focus": marked("focus"),
    "torch": marked("its lamp"),
    "awake": marked("the screen"),
}

ENOUGH_PPI, GOOD_PPI = 300, 400
"""300 pixels an inch of the print are the least for photographs, 400 are three stars (FADGI, Technical Guidelines
for Digitizing Cultural Heritage Materials, 3rd edition)."""

REFUSED = marked("This camera was sent away: another one took its place.")


def watched_words(state: str, why: str, where: str, *, waits: bool) -> str:
    """What goes on, or why nothing does; one or two sentences."""
    if why in _WHY_WHERE and where in _WHERE:
        return _(_WHY_WHERE[why], where=_(_WHERE[where]))
    if why in _WHY:
        return _(_WHY[why])
    return _(_WAITS) if waits and state == "taken" else _(_STATES[state])


def light_words(light: str) -> str:
    """What is wrong with the light; empty when nothing is."""
    return _(_LIGHT[light]) if light in _LIGHT else ""


def held_words(held: Sequence[str]) -> str:
    """What the camera holds still, one sentence; empty when nothing."""
    told = [_(_HELD[one]) for one in held if one in _HELD and one not in ("torch", "awake")]
    return _("The camera holds still: %(held)s.", held=", ".join(told)) if told else ""


def missing_words(missing: Sequence[str]) -> str:
    """What this browser does not let us hold, one sentence; empty when all can be held."""
    told = [_(_HELD[one]) for one in missing if one in _HELD and one not in ("torch", "awake")]
    if not told:
        return ""
    return _(
        "This browser does not let us hold still: %(missing)s. Hold it in the camera's own settings, or keep "
        "the light as it is.",
        missing=", ".join(told),
    )


def across_words(across: Mapping[str, int]) -> str:
    """How long the last print is in pixels, while nothing tells how large it is; empty where none was seen."""
    best = max(across, key=lambda route: across[route], default="")
    if not best or not across[best]:
        return ""
    return _(
        "The last print is %(pixels)s pixels long in %(way)s. How many that makes an inch is told once the stage "
        "sheet has lain there and the stage was said to be empty.",
        pixels=number_words(across[best]),
        way=_("the live picture") if best == "frame" else _("a full still"),
    )


def ppi_words(ppi: Mapping[str, float]) -> str:
    """Which way of taking the stills suffices, with its measured pixels an inch of the print."""
    if not ppi:
        return ""
    best = max(ppi, key=lambda route: ppi[route])
    if ppi[best] < ENOUGH_PPI:
        return _(
            "At best %(ppi)s pixels an inch: too few for a print to be kept in full. Bring the camera closer, or "
            "use the phone’s own camera and let its pictures come by a watched folder.",
            ppi=round(ppi[best]),
        )
    if ppi.get("frame", 0) >= GOOD_PPI:
        return _("%(ppi)s pixels an inch already in the live picture: that is enough.", ppi=round(ppi["frame"]))
    if best == "frame":
        return _(
            "%(ppi)s pixels an inch in the live picture: enough to look at, little to print.", ppi=round(ppi[best])
        )
    return _("%(ppi)s pixels an inch in a full still: it is used for every print.", ppi=round(ppi[best]))
