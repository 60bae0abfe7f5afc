-- A person and a class as another system names them (OneRoster's sourcedId).
ALTER TABLE people ADD COLUMN sourced_id TEXT;
CREATE UNIQUE INDEX people_by_sourced_id ON people (sourced_id) WHERE sourced_id IS NOT NULL;
ALTER TABLE sections ADD COLUMN class_sourced_id TEXT;

-- A roster that was read and not yet taken: what is confirmed is what was shown.
CREATE TABLE roster_previews (
  id TEXT PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  made_by INTEGER NOT NULL REFERENCES people (id),
  content TEXT NOT NULL CHECK (json_valid(content)),
  at TEXT NOT NULL
) STRICT;

-- Who was taken off a roster. Their work stays where it is.
CREATE TABLE section_leavers (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  person_id INTEGER NOT NULL REFERENCES people (id),
  added_at TEXT NOT NULL,
  left_at TEXT NOT NULL,
  taken_off_by INTEGER NOT NULL REFERENCES people (id)
) STRICT;
