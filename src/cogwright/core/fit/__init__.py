"""Will it go together: one check a fact, all of them in a registry."""
