"""What is known of the prints: one database, one writer, an appended history of every change."""
