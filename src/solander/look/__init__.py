"""How Solander looks and speaks: style sheet, fonts, page parts and words shared by station and site."""
