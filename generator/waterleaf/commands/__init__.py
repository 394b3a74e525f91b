"""What each command does, one module a command; the command line only reads words and calls these."""
