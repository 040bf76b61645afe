"""Pages of people, by what they are about."""
