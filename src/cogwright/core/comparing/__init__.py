"""Candidates beside their baseline: what each is called, its figures, and how one became the other."""
