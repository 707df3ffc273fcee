"""What each command prints; reading, working out and writing are done elsewhere."""
