"""One module a step, in order; a step that was published is never edited."""
