"""What each action does."""
