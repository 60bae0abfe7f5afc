-- What is certified and by which rule; answers to the questions at the end of a lesson; and a record of what left the house.
CREATE TABLE competencies (
  id INTEGER PRIMARY KEY,
  uuid TEXT NOT NULL UNIQUE,
  code TEXT NOT NULL UNIQUE,
  title TEXT NOT NULL,
  created_at TEXT NOT NULL
) STRICT;

-- A rule is never edited: a new version is added, in force from its date on.
CREATE TABLE evidence_rules (
  id INTEGER PRIMARY KEY,
  competency_id INTEGER NOT NULL REFERENCES competencies (id),
  version INTEGER NOT NULL,
  rule TEXT NOT NULL CHECK (json_valid(rule)),
  in_force_from TEXT NOT NULL,
  UNIQUE (competency_id, version)
) STRICT;

-- Which lab-sheet items count as evidence for a competency.
CREATE TABLE competency_items (
  competency_id INTEGER NOT NULL REFERENCES competencies (id),
  item_id INTEGER NOT NULL REFERENCES lab_sheet_items (id),
  PRIMARY KEY (competency_id, item_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE exports (
  id INTEGER PRIMARY KEY,
  person_id INTEGER NOT NULL REFERENCES people (id),
  what TEXT NOT NULL,
  rows INTEGER NOT NULL,
  at TEXT NOT NULL
) STRICT;

CREATE TABLE lesson_answers (
  id INTEGER PRIMARY KEY,
  person_id INTEGER NOT NULL REFERENCES people (id),
  lesson_slug TEXT NOT NULL,
  question_id TEXT NOT NULL,
  answer TEXT NOT NULL,
  correct INTEGER NOT NULL CHECK (correct IN (0, 1)),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX lesson_answers_by_person ON lesson_answers (person_id, lesson_slug);

CREATE TRIGGER evidence_rules_keep_update BEFORE UPDATE ON evidence_rules BEGIN SELECT RAISE(ABORT, 'evidence rules are only ever added to'); END;
CREATE TRIGGER evidence_rules_keep_delete BEFORE DELETE ON evidence_rules BEGIN SELECT RAISE(ABORT, 'evidence rules are only ever added to'); END;
CREATE TRIGGER exports_keep_update BEFORE UPDATE ON exports BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
CREATE TRIGGER exports_keep_delete BEFORE DELETE ON exports BEGIN SELECT RAISE(ABORT, 'exports are only ever added to'); END;
