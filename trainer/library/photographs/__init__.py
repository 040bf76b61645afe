"""A company's own pictures of its work, shown where a lesson has a place for them."""
