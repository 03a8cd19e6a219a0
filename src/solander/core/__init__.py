"""Facts and rules: no files, images, web or database."""
