-- Null: nobody may ask to be put on the section's roster.
ALTER TABLE sections ADD COLUMN join_code TEXT;
CREATE UNIQUE INDEX sections_by_join_code ON sections (join_code) WHERE join_code IS NOT NULL;

-- Who asks and is not answered yet. An answered one is forgotten: who was put on a roster stands there.
CREATE TABLE join_requests (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  given_name TEXT NOT NULL,
  family_name TEXT NOT NULL,
  student_number TEXT NOT NULL,
  email TEXT,
  at TEXT NOT NULL,
  UNIQUE (section_id, student_number)
) STRICT;
