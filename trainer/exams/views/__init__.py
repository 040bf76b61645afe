"""Pages of exams: `own` for the person who sits, `staff` for plans and sittings."""
