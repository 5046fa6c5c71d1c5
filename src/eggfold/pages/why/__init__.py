"""How each figure came about, sum by sum."""
