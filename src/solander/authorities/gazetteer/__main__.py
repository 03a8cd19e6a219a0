"""`python -m solander.authorities.gazetteer [FILE]`: makes the gazetteer when it is not there yet.

With FILE it is made anew there. Set-up and the tests call this, so that nobody waits for it later.
"""

from __future__ import annotations

import sys
from pathlib import Path

from solander.authorities.gazetteer.build import build
from solander.authorities.gazetteer.kept import gazetteer_file
from solander.core.errors import Trouble


def main(arguments: list[str]) -> int:
    """Makes it; 0 when it is there, else the status of what went wrong, with a sentence on stderr."""
    try:
        if arguments:
            build(Path(arguments[0]))
        else:
            gazetteer_file(lambda sentence: print(sentence, file=sys.stderr))
    except Trouble as trouble:
        print(trouble.sentence, file=sys.stderr)
        return trouble.exit
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
