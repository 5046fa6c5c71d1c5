"""What a user writes: text to typed, frozen models, with a place for every key and value."""
