-- A student asks for somebody at the bench; an answer is a row of its own.
CREATE TABLE calls (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  attempt_id TEXT REFERENCES attempts (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX calls_by_section ON calls (section_id, id);
CREATE TABLE call_answers (
  call_id INTEGER PRIMARY KEY REFERENCES calls (id),
  answered_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
