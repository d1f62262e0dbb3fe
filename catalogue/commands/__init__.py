"""The commands of `catalogue`, each in a module of its own: what may be given to it, and what it does."""
