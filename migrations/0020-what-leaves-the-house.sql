-- What an export holds, for whom and why; `rows` is no longer known when it begins.
ALTER TABLE exports ADD COLUMN form TEXT NOT NULL DEFAULT 'file';
-- The last instant that counts in it.
ALTER TABLE exports ADD COLUMN as_of TEXT;
ALTER TABLE exports ADD COLUMN recipient TEXT NOT NULL DEFAULT '';
ALTER TABLE exports ADD COLUMN purpose TEXT NOT NULL DEFAULT '';
-- Competencies with the version of the rule of each, sections, students: what was asked for, as JSON.
ALTER TABLE exports ADD COLUMN scope TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(scope));
-- The last link of the chain when it began.
ALTER TABLE exports ADD COLUMN chain_link TEXT;

-- That it went out whole.
CREATE TABLE export_ends (
  export_id INTEGER PRIMARY KEY REFERENCES exports (id),
  rows INTEGER NOT NULL,
  bytes INTEGER NOT NULL,
  sha256 TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;

-- Whose records were in it.
CREATE TABLE export_students (
  export_id INTEGER NOT NULL REFERENCES exports (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  PRIMARY KEY (export_id, student_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX export_students_by_student ON export_students (student_id);

-- A printed transcript, as it was printed. Whoever has its code may see that much.
CREATE TABLE transcripts (
  code TEXT PRIMARY KEY,
  export_id INTEGER NOT NULL REFERENCES exports (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  content TEXT NOT NULL CHECK (json_valid(content)),
  at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX transcripts_by_student ON transcripts (student_id);

CREATE TRIGGER export_ends_keep_update BEFORE UPDATE ON export_ends BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
CREATE TRIGGER export_ends_keep_delete BEFORE DELETE ON export_ends BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
CREATE TRIGGER export_students_keep_update BEFORE UPDATE ON export_students BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
CREATE TRIGGER export_students_keep_delete BEFORE DELETE ON export_students BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
CREATE TRIGGER transcripts_keep_update BEFORE UPDATE ON transcripts BEGIN SELECT RAISE(ABORT, 'transcripts are only ever added to'); END;
CREATE TRIGGER transcripts_keep_delete BEFORE DELETE ON transcripts BEGIN SELECT RAISE(ABORT, 'transcripts are only ever added to'); END;
