"""One bike's drivetrain as a value: its model, sizes, edits, history and differences."""
