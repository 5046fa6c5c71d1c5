"""What a user wants done: files and engine to one frozen result, one file per command."""
