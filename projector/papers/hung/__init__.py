"""How panels are drawn as they hang: gathered in folds, with the cloth's own print, named, above a floor."""
