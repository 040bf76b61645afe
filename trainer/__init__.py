"""The trainer: lessons, questions, exams and completion records for low-slope roofing crews."""
