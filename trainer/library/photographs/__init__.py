"""A company's own pictures of its work, shown where a lesson or a question has a place for them."""
