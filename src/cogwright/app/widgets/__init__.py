"""What Textual draws."""
