"""The terminal: one thin file per command."""
