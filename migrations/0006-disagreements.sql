-- What a student does not agree with in a grade, in words, and what an instructor answers. Both are only ever added to.
-- A thing of a grade is named by what it is, its place in that grade's list and its code.
CREATE TABLE disagreements (
  id INTEGER PRIMARY KEY,
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  grade_id INTEGER NOT NULL REFERENCES grades (id),
  about_kind TEXT NOT NULL CHECK (about_kind IN ('remark', 'stop', 'mistake')),
  about_index INTEGER NOT NULL CHECK (about_index >= 0),
  about_code TEXT NOT NULL,
  words TEXT NOT NULL CHECK (length(trim(words)) BETWEEN 1 AND 1000),
  written_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX disagreements_by_attempt ON disagreements (attempt_id, id);

CREATE TABLE disagreement_answers (
  id INTEGER PRIMARY KEY,
  disagreement_id INTEGER NOT NULL REFERENCES disagreements (id),
  words TEXT NOT NULL CHECK (length(trim(words)) BETWEEN 1 AND 1000),
  answered_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX disagreement_answers_by_disagreement ON disagreement_answers (disagreement_id, id);

CREATE TRIGGER disagreements_keep_update BEFORE UPDATE ON disagreements BEGIN SELECT RAISE(ABORT, 'disagreements are only ever added to'); END;
CREATE TRIGGER disagreements_keep_delete BEFORE DELETE ON disagreements BEGIN SELECT RAISE(ABORT, 'disagreements are only ever added to'); END;
CREATE TRIGGER disagreement_answers_keep_update BEFORE UPDATE ON disagreement_answers BEGIN SELECT RAISE(ABORT, 'answers are only ever added to'); END;
CREATE TRIGGER disagreement_answers_keep_delete BEFORE DELETE ON disagreement_answers BEGIN SELECT RAISE(ABORT, 'answers are only ever added to'); END;
