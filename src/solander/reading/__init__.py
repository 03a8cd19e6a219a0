"""Words out of pixels and sound, with how sure they are. (Begins with the reading of backs.)"""
