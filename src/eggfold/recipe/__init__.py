"""What a recipe means: doses, powder, baits, boil, and what the notes have taught."""
