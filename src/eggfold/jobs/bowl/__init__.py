"""One mixing: from a recipe's doses and trial to paste, baits and boil."""
