"""What is written back: splices, fixes, notes, each committed whole or not at all."""
