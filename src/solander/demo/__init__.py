"""The made-up box: an invented place and invented families, rendered into captures when the demo runs."""
