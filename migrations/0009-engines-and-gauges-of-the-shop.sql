-- What stands in the shop: real engines with their specifications, indicators and torque wrenches with their checks.
CREATE TABLE shop_engines (
  id INTEGER PRIMARY KEY,
  added_by INTEGER NOT NULL REFERENCES people (id),
  added_at TEXT NOT NULL,
  archived_at TEXT
) STRICT;

-- An engine as it was written down; the newest version holds.
CREATE TABLE shop_engine_versions (
  engine_id INTEGER NOT NULL REFERENCES shop_engines (id),
  version INTEGER NOT NULL CHECK (version > 0),
  content TEXT NOT NULL CHECK (json_valid(content)),
  kept_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL,
  PRIMARY KEY (engine_id, version)
) STRICT, WITHOUT ROWID;

-- Work on an engine: from then on its reference readings no longer hold.
CREATE TABLE shop_engine_work (
  id INTEGER PRIMARY KEY,
  engine_id INTEGER NOT NULL REFERENCES shop_engines (id),
  what TEXT NOT NULL,
  noted_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;

-- The lift of one lobe as it was found in three separate set-ups. Never shown to students.
CREATE TABLE shop_references (
  id INTEGER PRIMARY KEY,
  engine_id INTEGER NOT NULL REFERENCES shop_engines (id),
  position INTEGER NOT NULL CHECK (position > 0),
  unit TEXT NOT NULL CHECK (unit IN ('in', 'mm')),
  first REAL NOT NULL,
  second REAL NOT NULL,
  third REAL NOT NULL,
  gauge_id INTEGER REFERENCES shop_gauges (id),
  taken_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX shop_references_by_lobe ON shop_references (engine_id, position, id);

CREATE TABLE shop_gauges (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('indicator', 'torque-wrench')),
  number TEXT NOT NULL,
  what TEXT NOT NULL,
  -- Of an indicator: what one mark is worth, and in which unit.
  graduation REAL CHECK (graduation IS NULL OR graduation > 0),
  unit TEXT CHECK (unit IN ('in', 'mm')),
  when_overdue TEXT NOT NULL CHECK (when_overdue IN ('warn', 'block')),
  added_by INTEGER NOT NULL REFERENCES people (id),
  added_at TEXT NOT NULL,
  archived_at TEXT,
  UNIQUE (kind, number)
) STRICT;

-- A check of a gauge or a wrench; the newest holds.
CREATE TABLE shop_gauge_checks (
  id INTEGER PRIMARY KEY,
  gauge_id INTEGER NOT NULL REFERENCES shop_gauges (id),
  checked_on TEXT NOT NULL,
  passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
  due_on TEXT NOT NULL,
  note TEXT NOT NULL,
  noted_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX shop_gauge_checks_by_gauge ON shop_gauge_checks (gauge_id, id);

CREATE TRIGGER shop_engine_versions_keep_update BEFORE UPDATE ON shop_engine_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER shop_engine_versions_keep_delete BEFORE DELETE ON shop_engine_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER shop_engine_work_keep_update BEFORE UPDATE ON shop_engine_work BEGIN SELECT RAISE(ABORT, 'work is only ever added to'); END;
CREATE TRIGGER shop_engine_work_keep_delete BEFORE DELETE ON shop_engine_work BEGIN SELECT RAISE(ABORT, 'work is only ever added to'); END;
CREATE TRIGGER shop_references_keep_update BEFORE UPDATE ON shop_references BEGIN SELECT RAISE(ABORT, 'references are only ever added to'); END;
CREATE TRIGGER shop_references_keep_delete BEFORE DELETE ON shop_references BEGIN SELECT RAISE(ABORT, 'references are only ever added to'); END;
CREATE TRIGGER shop_gauge_checks_keep_update BEFORE UPDATE ON shop_gauge_checks BEGIN SELECT RAISE(ABORT, 'checks are only ever added to'); END;
CREATE TRIGGER shop_gauge_checks_keep_delete BEFORE DELETE ON shop_gauge_checks BEGIN SELECT RAISE(ABORT, 'checks are only ever added to'); END;
