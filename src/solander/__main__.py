"""`python -m solander`."""

from solander.cli.main import run

run()
