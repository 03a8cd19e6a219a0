"""Writing on prints, read: `reader` is what a reader must be able to do; `engine`, `tesseract` and `handwriting`
do it; `side` reads a whole back with one, `borders` the white border of a front."""
