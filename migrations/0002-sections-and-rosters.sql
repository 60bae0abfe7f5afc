-- A section is a class of students with its instructors, in a term.
CREATE TABLE sections (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  term TEXT NOT NULL,
  created_at TEXT NOT NULL,
  UNIQUE (name, term)
) STRICT;

CREATE TABLE section_instructors (
  section_id INTEGER NOT NULL REFERENCES sections (id),
  person_id INTEGER NOT NULL REFERENCES people (id),
  PRIMARY KEY (section_id, person_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX section_instructors_by_person ON section_instructors (person_id);

CREATE TABLE section_students (
  section_id INTEGER NOT NULL REFERENCES sections (id),
  person_id INTEGER NOT NULL REFERENCES people (id),
  added_at TEXT NOT NULL,
  added_by INTEGER REFERENCES people (id),
  PRIMARY KEY (section_id, person_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX section_students_by_person ON section_students (person_id);
