"""The speech model that a person supplies for another language, remembered for this user on this computer.

It is kept in a small file of this user and not in the collection: where the folder lies is true of one computer.
"""

from __future__ import annotations

import json
from pathlib import Path

from attrs import define, field

from solander.core.own_files import locked, private_file
from solander.core.own_folder import own_folder
from solander.reading.speech import Model, model_in, table_for

__all__ = ["Model", "SpeechModel"]


@define(eq=False)
class SpeechModel:
    """What was chosen last; without a choice English is understood, by the recogniser's own model."""

    file: Path = field(factory=lambda: own_folder() / "speech.json")

    def model(self) -> Model | None:
        """The model that was chosen, None where none was.

        Raises
        ------
        CannotBegin
            When its folder holds no such model any more.
        """
        folder = self._folder()
        return _checked(Path(folder)) if folder else None

    def choose(self, folder: Path) -> Model:
        """Remembers a folder and gives the model in it.

        Raises
        ------
        CannotBegin
            When it holds no model, or one of a language that has no table; then nothing is remembered.
        """
        model = _checked(folder)
        self._keep(str(folder.absolute()))
        return model

    def forget(self) -> None:
        """English again."""
        self._keep("")

    def _folder(self) -> str:
        try:
            told = json.loads(self.file.read_text("utf-8"))
        except (OSError, ValueError):
            return ""  # not there, or spoilt: the next choice writes a new one
        folder = told.get("folder", "") if isinstance(told, dict) else ""
        return folder if isinstance(folder, str) else ""

    def _keep(self, folder: str) -> None:
        with locked(self.file):
            private_file(self.file, json.dumps({"folder": folder}, ensure_ascii=False).encode())


def _checked(folder: Path) -> Model:
    model = model_in(folder)
    table_for(model)
    return model
