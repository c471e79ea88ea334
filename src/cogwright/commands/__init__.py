"""The subcommands, one module each: `add` declares the arguments, `run` does the work. No Textual here."""
