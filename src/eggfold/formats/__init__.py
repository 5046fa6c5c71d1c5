"""How a page or a result is written."""
