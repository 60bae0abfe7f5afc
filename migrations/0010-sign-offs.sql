-- Work on a shop engine, signed off step by step. Nothing here is ever changed: what is newer counts.
CREATE TABLE sign_offs (
  id TEXT PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  item_id INTEGER NOT NULL REFERENCES lab_sheet_items (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  -- Who barred while the student read; null for whoever stood by.
  barred_by INTEGER REFERENCES people (id),
  engine_id INTEGER NOT NULL REFERENCES shop_engines (id),
  engine_version INTEGER NOT NULL,
  -- Drawn at the bench.
  position INTEGER NOT NULL CHECK (position > 0),
  gauge_id INTEGER REFERENCES shop_gauges (id),
  wrench_id INTEGER REFERENCES shop_gauges (id),
  -- The steps and the pass rule as they stood, and what was known of the gauges.
  work TEXT NOT NULL CHECK (json_valid(work)),
  gauges TEXT NOT NULL CHECK (json_valid(gauges)),
  -- The reference at the start; null where none held.
  reference TEXT CHECK (reference IS NULL OR json_valid(reference)),
  -- Of a sheet that was signed on paper: who signed it, and on which day.
  paper TEXT CHECK (paper IS NULL OR json_valid(paper)),
  started_by INTEGER NOT NULL REFERENCES people (id),
  started_at TEXT NOT NULL
) STRICT;
CREATE INDEX sign_offs_by_section ON sign_offs (section_id, student_id);

-- A step as the assessor or the student put it down. `made_at` is the clock of the phone, `arrived_at` ours.
CREATE TABLE sign_off_ticks (
  id INTEGER PRIMARY KEY,
  sign_off_id TEXT NOT NULL REFERENCES sign_offs (id),
  step INTEGER NOT NULL CHECK (step >= 0),
  state TEXT NOT NULL CHECK (state IN ('alone', 'with-prompt', 'not-done', 'not-seen', 'done', 'ready')),
  note TEXT NOT NULL,
  person_id INTEGER NOT NULL REFERENCES people (id),
  client_id TEXT NOT NULL,
  made_at TEXT NOT NULL,
  arrived_at TEXT NOT NULL,
  UNIQUE (sign_off_id, client_id)
) STRICT;

-- What was read and concluded, as typed.
CREATE TABLE sign_off_readings (
  id INTEGER PRIMARY KEY,
  sign_off_id TEXT NOT NULL REFERENCES sign_offs (id),
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  person_id INTEGER NOT NULL REFERENCES people (id),
  client_id TEXT NOT NULL,
  made_at TEXT NOT NULL,
  arrived_at TEXT NOT NULL,
  UNIQUE (sign_off_id, client_id)
) STRICT;

CREATE TABLE sign_off_signatures (
  id INTEGER PRIMARY KEY,
  sign_off_id TEXT NOT NULL REFERENCES sign_offs (id),
  role TEXT NOT NULL CHECK (role IN ('student', 'assessor', 'countersigned')),
  person_id INTEGER NOT NULL REFERENCES people (id),
  -- What an assessor signs for: whether it is passed, and why not.
  outcome TEXT CHECK (outcome IS NULL OR json_valid(outcome)),
  client_id TEXT NOT NULL,
  made_at TEXT NOT NULL,
  arrived_at TEXT NOT NULL,
  UNIQUE (sign_off_id, role),
  UNIQUE (sign_off_id, client_id)
) STRICT;

CREATE TABLE sign_off_photos (
  id INTEGER PRIMARY KEY,
  sign_off_id TEXT NOT NULL REFERENCES sign_offs (id),
  step INTEGER,
  type TEXT NOT NULL,
  bytes BLOB NOT NULL,
  person_id INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;

-- The short PIN somebody signs with on a borrowed phone.
CREATE TABLE person_pins (
  person_id INTEGER PRIMARY KEY REFERENCES people (id),
  hash TEXT NOT NULL,
  set_at TEXT NOT NULL
) STRICT;
CREATE TABLE pin_misses (
  id INTEGER PRIMARY KEY,
  person_id INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX pin_misses_by_person ON pin_misses (person_id, at);

CREATE TRIGGER sign_offs_keep_update BEFORE UPDATE ON sign_offs BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_offs_keep_delete BEFORE DELETE ON sign_offs BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_ticks_keep_update BEFORE UPDATE ON sign_off_ticks BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_ticks_keep_delete BEFORE DELETE ON sign_off_ticks BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_readings_keep_update BEFORE UPDATE ON sign_off_readings BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_readings_keep_delete BEFORE DELETE ON sign_off_readings BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_signatures_keep_update BEFORE UPDATE ON sign_off_signatures BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;
CREATE TRIGGER sign_off_signatures_keep_delete BEFORE DELETE ON sign_off_signatures BEGIN SELECT RAISE(ABORT, 'sign-offs are only ever added to'); END;

-- A substitute: an instructor whose sign-in ends, and whose signatures wait for a countersignature.
ALTER TABLE people ADD COLUMN substitute_until TEXT;
