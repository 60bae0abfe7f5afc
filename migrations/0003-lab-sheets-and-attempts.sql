-- What is assigned, and every go at it. Attempts, actions, hand-ins, grades and changes of grade are only ever added to.
CREATE TABLE lab_sheets (
  id INTEGER PRIMARY KEY,
  title TEXT NOT NULL,
  introduction TEXT NOT NULL,
  created_at TEXT NOT NULL
) STRICT;

CREATE TABLE lab_sheet_items (
  id INTEGER PRIMARY KEY,
  lab_sheet_id INTEGER NOT NULL REFERENCES lab_sheets (id),
  ordinal INTEGER NOT NULL,
  title TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('lesson', 'practice-engine')),
  -- For a lesson.
  lesson_slug TEXT,
  -- For a practice engine: how it is worked, the exercise's definition, and how many tries (none: as many as wanted).
  way TEXT CHECK (way IN ('practice', 'graded-run')),
  definition TEXT CHECK (definition IS NULL OR json_valid(definition)),
  tries INTEGER CHECK (tries IS NULL OR tries > 0),
  UNIQUE (lab_sheet_id, ordinal),
  CHECK ((kind = 'lesson') = (lesson_slug IS NOT NULL)),
  CHECK ((kind = 'practice-engine') = (definition IS NOT NULL AND way IS NOT NULL))
) STRICT;

CREATE TABLE assignments (
  section_id INTEGER NOT NULL REFERENCES sections (id),
  lab_sheet_id INTEGER NOT NULL REFERENCES lab_sheets (id),
  assigned_at TEXT NOT NULL,
  assigned_by INTEGER REFERENCES people (id),
  PRIMARY KEY (section_id, lab_sheet_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE attempts (
  id TEXT PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  item_id INTEGER NOT NULL REFERENCES lab_sheet_items (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  try_number INTEGER NOT NULL CHECK (try_number > 0),
  way TEXT NOT NULL CHECK (way IN ('practice', 'graded-run')),
  -- The definition as it stood when the attempt began: a later edit of the sheet changes nothing here.
  definition TEXT NOT NULL CHECK (json_valid(definition)),
  seed TEXT NOT NULL,
  engine_version TEXT NOT NULL,
  started_at TEXT NOT NULL,
  UNIQUE (item_id, section_id, student_id, try_number)
) STRICT;
CREATE INDEX attempts_by_student ON attempts (student_id, started_at);
CREATE INDEX attempts_by_section ON attempts (section_id, started_at);

CREATE TABLE attempt_actions (
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  seq INTEGER NOT NULL CHECK (seq >= 0),
  action TEXT NOT NULL CHECK (json_valid(action)),
  at TEXT NOT NULL,
  PRIMARY KEY (attempt_id, seq)
) STRICT, WITHOUT ROWID;

-- What is typed but not yet handed in. The one table here that is written over.
CREATE TABLE attempt_drafts (
  attempt_id TEXT PRIMARY KEY REFERENCES attempts (id),
  sheet TEXT NOT NULL CHECK (json_valid(sheet)),
  saved_at TEXT NOT NULL
) STRICT;

CREATE TABLE hand_ins (
  attempt_id TEXT PRIMARY KEY REFERENCES attempts (id),
  -- As typed, and as read: both are kept, so that a reading rule mended later can be shown to have been.
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  sheet TEXT NOT NULL CHECK (json_valid(sheet)),
  action_count INTEGER NOT NULL,
  at TEXT NOT NULL
) STRICT;

CREATE TABLE grades (
  id INTEGER PRIMARY KEY,
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  engine_version TEXT NOT NULL,
  points REAL NOT NULL,
  stops INTEGER NOT NULL,
  grade TEXT NOT NULL CHECK (json_valid(grade)),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX grades_by_attempt ON grades (attempt_id, id);

CREATE TABLE grade_changes (
  id INTEGER PRIMARY KEY,
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  set_up REAL NOT NULL,
  procedure REAL NOT NULL,
  reading REAL NOT NULL,
  verdict REAL NOT NULL,
  reason TEXT NOT NULL CHECK (length(trim(reason)) > 0),
  changed_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX grade_changes_by_attempt ON grade_changes (attempt_id, id);

CREATE TRIGGER attempts_keep_update BEFORE UPDATE ON attempts BEGIN SELECT RAISE(ABORT, 'attempts are only ever added to'); END;
CREATE TRIGGER attempts_keep_delete BEFORE DELETE ON attempts BEGIN SELECT RAISE(ABORT, 'attempts are only ever added to'); END;
CREATE TRIGGER attempt_actions_keep_update BEFORE UPDATE ON attempt_actions BEGIN SELECT RAISE(ABORT, 'actions are only ever added to'); END;
CREATE TRIGGER attempt_actions_keep_delete BEFORE DELETE ON attempt_actions BEGIN SELECT RAISE(ABORT, 'actions are only ever added to'); END;
CREATE TRIGGER hand_ins_keep_update BEFORE UPDATE ON hand_ins BEGIN SELECT RAISE(ABORT, 'hand-ins are only ever added to'); END;
CREATE TRIGGER hand_ins_keep_delete BEFORE DELETE ON hand_ins BEGIN SELECT RAISE(ABORT, 'hand-ins are only ever added to'); END;
CREATE TRIGGER grades_keep_update BEFORE UPDATE ON grades BEGIN SELECT RAISE(ABORT, 'grades are only ever added to'); END;
CREATE TRIGGER grades_keep_delete BEFORE DELETE ON grades BEGIN SELECT RAISE(ABORT, 'grades are only ever added to'); END;
CREATE TRIGGER grade_changes_keep_update BEFORE UPDATE ON grade_changes BEGIN SELECT RAISE(ABORT, 'changes of grade are only ever added to'); END;
CREATE TRIGGER grade_changes_keep_delete BEFORE DELETE ON grade_changes BEGIN SELECT RAISE(ABORT, 'changes of grade are only ever added to'); END;
-- Nothing more is done on an engine whose sheet has been handed in.
CREATE TRIGGER attempt_actions_closed BEFORE INSERT ON attempt_actions
WHEN EXISTS (SELECT 1 FROM hand_ins WHERE attempt_id = NEW.attempt_id)
BEGIN SELECT RAISE(ABORT, 'this attempt has been handed in'); END;
