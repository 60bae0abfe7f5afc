-- What was printed, each sheet with a code that finds it again; and what was entered from one. Nothing is written over.
CREATE TABLE paper_batches (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  kind TEXT NOT NULL CHECK (kind IN ('dials', 'measuring', 'sign-off')),
  title TEXT NOT NULL,
  -- As it stood when it was printed: for dials the exercise, for measuring the kind of work, for a sign-off its item and steps.
  settings TEXT NOT NULL CHECK (json_valid(settings)),
  made_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX paper_batches_by_section ON paper_batches (section_id, id);

CREATE TABLE paper_sheets (
  code TEXT PRIMARY KEY CHECK (length(code) = 7),
  batch_id INTEGER NOT NULL REFERENCES paper_batches (id),
  ordinal INTEGER NOT NULL,
  -- Null: a spare one, to write a name on.
  student_id INTEGER REFERENCES people (id),
  -- For drawn dials alone.
  seed TEXT,
  UNIQUE (batch_id, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE paper_readings (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL REFERENCES paper_sheets (code),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  sheet TEXT NOT NULL CHECK (json_valid(sheet)),
  engine_version TEXT NOT NULL,
  grade TEXT NOT NULL CHECK (json_valid(grade)),
  entered_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX paper_readings_by_sheet ON paper_readings (code, id);

CREATE TRIGGER paper_batches_keep_update BEFORE UPDATE ON paper_batches BEGIN SELECT RAISE(ABORT, 'what was printed stays'); END;
CREATE TRIGGER paper_batches_keep_delete BEFORE DELETE ON paper_batches BEGIN SELECT RAISE(ABORT, 'what was printed stays'); END;
CREATE TRIGGER paper_sheets_keep_update BEFORE UPDATE ON paper_sheets BEGIN SELECT RAISE(ABORT, 'what was printed stays'); END;
CREATE TRIGGER paper_sheets_keep_delete BEFORE DELETE ON paper_sheets BEGIN SELECT RAISE(ABORT, 'what was printed stays'); END;
CREATE TRIGGER paper_readings_keep_update BEFORE UPDATE ON paper_readings BEGIN SELECT RAISE(ABORT, 'readings are only ever added to'); END;
CREATE TRIGGER paper_readings_keep_delete BEFORE DELETE ON paper_readings BEGIN SELECT RAISE(ABORT, 'readings are only ever added to'); END;
