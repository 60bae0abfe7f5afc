-- What an instructor says of a graded attempt, that it was looked at, and further tries; nothing is written over.
CREATE TABLE attempt_comments (
  id INTEGER PRIMARY KEY,
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  words TEXT NOT NULL CHECK (length(trim(words)) BETWEEN 1 AND 1000),
  written_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX attempt_comments_by_attempt ON attempt_comments (attempt_id, id);

CREATE TABLE attempt_looks (
  id INTEGER PRIMARY KEY,
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  looked_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX attempt_looks_by_attempt ON attempt_looks (attempt_id, id);

-- One further try at an item, for one person, after an attempt that was handed back.
CREATE TABLE further_tries (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  item_id INTEGER NOT NULL REFERENCES lab_sheet_items (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  reason TEXT NOT NULL CHECK (length(trim(reason)) BETWEEN 1 AND 1000),
  given_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX further_tries_by_item ON further_tries (item_id, section_id, student_id);
CREATE INDEX further_tries_by_attempt ON further_tries (attempt_id);

CREATE TRIGGER attempt_comments_keep_update BEFORE UPDATE ON attempt_comments BEGIN SELECT RAISE(ABORT, 'comments are only ever added to'); END;
CREATE TRIGGER attempt_comments_keep_delete BEFORE DELETE ON attempt_comments BEGIN SELECT RAISE(ABORT, 'comments are only ever added to'); END;
CREATE TRIGGER attempt_looks_keep_update BEFORE UPDATE ON attempt_looks BEGIN SELECT RAISE(ABORT, 'looks are only ever added to'); END;
CREATE TRIGGER attempt_looks_keep_delete BEFORE DELETE ON attempt_looks BEGIN SELECT RAISE(ABORT, 'looks are only ever added to'); END;
CREATE TRIGGER further_tries_keep_update BEFORE UPDATE ON further_tries BEGIN SELECT RAISE(ABORT, 'further tries are only ever added to'); END;
CREATE TRIGGER further_tries_keep_delete BEFORE DELETE ON further_tries BEGIN SELECT RAISE(ABORT, 'further tries are only ever added to'); END;
