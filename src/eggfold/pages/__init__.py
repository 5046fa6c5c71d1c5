"""What a user reads: a result as a page, without a format."""
