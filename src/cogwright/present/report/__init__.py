"""The reports: the same figures as text, Markdown, CSV and JSON."""
