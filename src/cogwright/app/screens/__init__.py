"""What stands over the whole screen: questions, text to read, the list of all actions."""
