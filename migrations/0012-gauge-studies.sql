-- A gauge study: parts that several people measure several times each.
CREATE TABLE gauge_studies (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  title TEXT NOT NULL,
  unit TEXT NOT NULL CHECK (unit IN ('in', 'mm')),
  graduation REAL NOT NULL CHECK (graduation > 0),
  -- Width of the tolerance, in the unit; null where there is none.
  tolerance REAL CHECK (tolerance IS NULL OR tolerance > 0),
  parts TEXT NOT NULL CHECK (json_valid(parts)),
  people TEXT NOT NULL CHECK (json_valid(people)),
  repeats INTEGER NOT NULL CHECK (repeats BETWEEN 2 AND 10),
  -- Draws the order of every sheet.
  seed TEXT NOT NULL,
  made_by INTEGER NOT NULL REFERENCES people (id),
  made_at TEXT NOT NULL
) STRICT;

-- Readings, by place in the lists, from 0; a correction is a newer row, and an empty value takes one back.
CREATE TABLE gauge_study_readings (
  id INTEGER PRIMARY KEY,
  study_id INTEGER NOT NULL REFERENCES gauge_studies (id),
  part INTEGER NOT NULL,
  person INTEGER NOT NULL,
  repeat INTEGER NOT NULL,
  value REAL,
  entered_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX gauge_study_readings_by_study ON gauge_study_readings (study_id, id);
CREATE TRIGGER gauge_study_readings_keep_update BEFORE UPDATE ON gauge_study_readings BEGIN SELECT RAISE(ABORT, 'readings are only ever added to'); END;
CREATE TRIGGER gauge_study_readings_keep_delete BEFORE DELETE ON gauge_study_readings BEGIN SELECT RAISE(ABORT, 'readings are only ever added to'); END;
