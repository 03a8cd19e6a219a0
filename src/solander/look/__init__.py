"""How Solander looks and speaks on pages: style sheet, fonts, page parts, words, the ruler. Reads core alone."""
