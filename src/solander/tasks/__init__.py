"""The verbs, one a module: the only place that joins the parts."""
