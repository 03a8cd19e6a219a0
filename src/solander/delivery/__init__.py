"""Things for outside: descriptions inside files, bags, sites."""
