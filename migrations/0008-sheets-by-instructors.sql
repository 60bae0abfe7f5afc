-- Sections that end, and the clock on their wall; lab sheets that instructors write, with versions, dates and extra time.
ALTER TABLE sections ADD COLUMN archived_at TEXT;
ALTER TABLE sections ADD COLUMN time_zone TEXT NOT NULL DEFAULT 'UTC';

-- Null: it came with the program, and nobody changes it.
ALTER TABLE lab_sheets ADD COLUMN made_by INTEGER REFERENCES people (id);
ALTER TABLE lab_sheets ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
ALTER TABLE lab_sheets ADD COLUMN archived_at TEXT;
-- What each criterion counts of 100: {"setUp":30,"procedure":20,"reading":30,"verdict":20}. Null: as the engine has them.
ALTER TABLE lab_sheets ADD COLUMN weights TEXT CHECK (weights IS NULL OR json_valid(weights));

-- Every version as it was kept, whole.
CREATE TABLE lab_sheet_versions (
  lab_sheet_id INTEGER NOT NULL REFERENCES lab_sheets (id),
  version INTEGER NOT NULL,
  content TEXT NOT NULL CHECK (json_valid(content)),
  kept_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL,
  PRIMARY KEY (lab_sheet_id, version)
) STRICT, WITHOUT ROWID;

-- Made anew, for kinds of item that were not there before. An item that is worked on is never changed into another: it is taken off the
-- sheet, and another put on.
CREATE TABLE lab_sheet_items_new (
  id INTEGER PRIMARY KEY,
  lab_sheet_id INTEGER NOT NULL REFERENCES lab_sheets (id),
  ordinal INTEGER NOT NULL,
  title TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('lesson', 'question-set', 'practice-engine', 'shop-engine')),
  -- For a lesson, or the questions at its end.
  lesson_slug TEXT,
  -- For a practice engine: how it is worked, the exercise's definition, and how many tries (none: as many as wanted).
  way TEXT CHECK (way IN ('practice', 'graded-run')),
  -- For a practice engine its exercise, for a shop engine its steps.
  definition TEXT CHECK (definition IS NULL OR json_valid(definition)),
  tries INTEGER CHECK (tries IS NULL OR tries > 0),
  -- How much it counts in the score of the sheet, beside the others; 0 does not count.
  share REAL NOT NULL DEFAULT 0 CHECK (share BETWEEN 0 AND 100),
  -- May help be asked for while working? Only in practice.
  hints INTEGER NOT NULL DEFAULT 1 CHECK (hints IN (0, 1)),
  removed_at TEXT,
  CHECK ((kind IN ('lesson', 'question-set')) = (lesson_slug IS NOT NULL)),
  CHECK ((kind IN ('practice-engine', 'shop-engine')) = (definition IS NOT NULL)),
  CHECK ((kind = 'practice-engine') = (way IS NOT NULL))
) STRICT;
INSERT INTO lab_sheet_items_new (id, lab_sheet_id, ordinal, title, kind, lesson_slug, way, definition, tries, share)
  SELECT id, lab_sheet_id, ordinal, title, kind, lesson_slug, way, definition, tries, CASE way WHEN 'graded-run' THEN 100 ELSE 0 END
  FROM lab_sheet_items;
DROP TABLE lab_sheet_items;
ALTER TABLE lab_sheet_items_new RENAME TO lab_sheet_items;
CREATE UNIQUE INDEX lab_sheet_items_in_order ON lab_sheet_items (lab_sheet_id, ordinal) WHERE removed_at IS NULL;

ALTER TABLE assignments ADD COLUMN due_at TEXT;
-- After that: so many per cent off for each day begun, and accepted for so many days (null: for as long as the section runs).
ALTER TABLE assignments ADD COLUMN late_percent REAL NOT NULL DEFAULT 0 CHECK (late_percent BETWEEN 0 AND 100);
ALTER TABLE assignments ADD COLUMN late_days INTEGER CHECK (late_days IS NULL OR late_days BETWEEN 0 AND 365);
ALTER TABLE assignments ADD COLUMN counts TEXT NOT NULL DEFAULT 'best' CHECK (counts IN ('best', 'last'));

-- Extra time for one person; the newest counts.
CREATE TABLE extensions (
  id INTEGER PRIMARY KEY,
  section_id INTEGER NOT NULL REFERENCES sections (id),
  lab_sheet_id INTEGER NOT NULL REFERENCES lab_sheets (id),
  person_id INTEGER NOT NULL REFERENCES people (id),
  due_at TEXT NOT NULL,
  reason TEXT NOT NULL,
  given_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX extensions_by_assignment ON extensions (section_id, lab_sheet_id, person_id, id);

-- How the sheet stood when the attempt began.
ALTER TABLE attempts ADD COLUMN sheet_version INTEGER NOT NULL DEFAULT 1;
ALTER TABLE attempts ADD COLUMN weights TEXT CHECK (weights IS NULL OR json_valid(weights));
ALTER TABLE attempts ADD COLUMN hints INTEGER NOT NULL DEFAULT 1 CHECK (hints IN (0, 1));

CREATE TRIGGER lab_sheet_versions_keep_update BEFORE UPDATE ON lab_sheet_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER lab_sheet_versions_keep_delete BEFORE DELETE ON lab_sheet_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER extensions_keep_update BEFORE UPDATE ON extensions BEGIN SELECT RAISE(ABORT, 'extensions are only ever added to'); END;
CREATE TRIGGER extensions_keep_delete BEFORE DELETE ON extensions BEGIN SELECT RAISE(ABORT, 'extensions are only ever added to'); END;
