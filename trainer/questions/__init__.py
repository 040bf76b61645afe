"""Questions: a question file and a specification give a case; a case and a response give a verdict.

`format.parse_question` reads a file, `cases.make_case` draws a case, `verdict.judge` judges a response, `evidence`
writes a case whole and reads it back, `check` tries every question many times. Nothing here knows the database or the
web.
"""
