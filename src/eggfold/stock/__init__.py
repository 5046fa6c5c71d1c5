"""What is there and what is needed: holdings, shopping, cost, what is noted."""
