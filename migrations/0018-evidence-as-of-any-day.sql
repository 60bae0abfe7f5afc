-- What a rule looks at in a grade, taken out of it once: a record over years reads hundreds of thousands of them.
CREATE TABLE grade_facts (
  grade_id INTEGER PRIMARY KEY REFERENCES grades (id),
  attempt_id TEXT NOT NULL REFERENCES attempts (id),
  at TEXT NOT NULL,
  set_up REAL NOT NULL,
  procedure REAL NOT NULL,
  reading REAL NOT NULL,
  verdict REAL NOT NULL,
  out_set_up REAL NOT NULL,
  out_procedure REAL NOT NULL,
  out_reading REAL NOT NULL,
  out_verdict REAL NOT NULL,
  stops INTEGER NOT NULL,
  -- Was a part of it outside its limits?
  bad_part INTEGER NOT NULL CHECK (bad_part IN (0, 1)),
  -- Was something wrong with the set-up as it was found, such as a tappet that sticks?
  set_up_fault INTEGER NOT NULL CHECK (set_up_fault IN (0, 1))
) STRICT;
CREATE INDEX grade_facts_by_attempt ON grade_facts (attempt_id, grade_id);

INSERT INTO grade_facts
  SELECT id, attempt_id, at,
    json_extract(grade, '$.points.setUp'), json_extract(grade, '$.points.procedure'),
    json_extract(grade, '$.points.reading'), json_extract(grade, '$.points.verdict'),
    json_extract(grade, '$.outOf.setUp'), json_extract(grade, '$.outOf.procedure'),
    json_extract(grade, '$.outOf.reading'), json_extract(grade, '$.outOf.verdict'),
    stops,
    EXISTS (SELECT 1 FROM json_each(grade, '$.lobes') one WHERE json_extract(one.value, '$.trueVerdict') <> 'inside')
      OR (SELECT json_extract(definition, '$.kind') FROM attempts WHERE attempts.id = grades.attempt_id) <> 'fault-finding'
        AND EXISTS (SELECT 1 FROM json_each(grade, '$.items') one WHERE json_extract(one.value, '$.trueVerdict') <> 'inside'),
    -- What is to be found in fault finding is a fault of the set-up.
    EXISTS (SELECT 1 FROM json_each(grade, '$.lobes') one WHERE json_extract(one.value, '$.tappet') <> 'free')
      OR (SELECT json_extract(definition, '$.kind') FROM attempts WHERE attempts.id = grades.attempt_id) = 'fault-finding'
        AND EXISTS (SELECT 1 FROM json_each(grade, '$.items') one WHERE json_extract(one.value, '$.trueVerdict') NOT IN ('none', 'inside'))
  FROM grades;

CREATE TRIGGER grades_have_facts AFTER INSERT ON grades BEGIN
  INSERT INTO grade_facts
    SELECT NEW.id, NEW.attempt_id, NEW.at,
      json_extract(NEW.grade, '$.points.setUp'), json_extract(NEW.grade, '$.points.procedure'),
      json_extract(NEW.grade, '$.points.reading'), json_extract(NEW.grade, '$.points.verdict'),
      json_extract(NEW.grade, '$.outOf.setUp'), json_extract(NEW.grade, '$.outOf.procedure'),
      json_extract(NEW.grade, '$.outOf.reading'), json_extract(NEW.grade, '$.outOf.verdict'),
      NEW.stops,
      EXISTS (SELECT 1 FROM json_each(NEW.grade, '$.lobes') one WHERE json_extract(one.value, '$.trueVerdict') <> 'inside')
        OR (SELECT json_extract(definition, '$.kind') FROM attempts WHERE attempts.id = NEW.attempt_id) <> 'fault-finding'
          AND EXISTS (SELECT 1 FROM json_each(NEW.grade, '$.items') one WHERE json_extract(one.value, '$.trueVerdict') <> 'inside'),
      -- What is to be found in fault finding is a fault of the set-up.
      EXISTS (SELECT 1 FROM json_each(NEW.grade, '$.lobes') one WHERE json_extract(one.value, '$.tappet') <> 'free')
        OR (SELECT json_extract(definition, '$.kind') FROM attempts WHERE attempts.id = NEW.attempt_id) = 'fault-finding'
          AND EXISTS (SELECT 1 FROM json_each(NEW.grade, '$.items') one WHERE json_extract(one.value, '$.trueVerdict') NOT IN ('none', 'inside'));
END;

ALTER TABLE competencies ADD COLUMN course TEXT NOT NULL DEFAULT '';
ALTER TABLE competencies ADD COLUMN statement TEXT NOT NULL DEFAULT '';
ALTER TABLE competencies ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
ALTER TABLE competencies ADD COLUMN retired_at TEXT;
-- Null: it came with the program.
ALTER TABLE evidence_rules ADD COLUMN made_by INTEGER REFERENCES people (id);
ALTER TABLE evidence_rules ADD COLUMN reason TEXT NOT NULL DEFAULT '';
-- Work that counts, by the item: a part of the rule, so that what counted on a day is known later too.
ALTER TABLE evidence_rules ADD COLUMN items TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(items));
DROP TRIGGER evidence_rules_keep_update;
UPDATE evidence_rules SET items = (
  SELECT json_group_array(item_id) FROM (
    SELECT item_id FROM competency_items WHERE competency_items.competency_id = evidence_rules.competency_id ORDER BY item_id
  )
);
CREATE TRIGGER evidence_rules_keep_update BEFORE UPDATE ON evidence_rules BEGIN SELECT RAISE(ABORT, 'evidence rules are only ever added to'); END;
DROP TABLE competency_items;
-- What counts by the newest rule of each.
CREATE VIEW competency_items AS
  SELECT rule.competency_id, item.value AS item_id
  FROM evidence_rules rule, json_each(rule.items) item
  WHERE rule.version = (SELECT max(version) FROM evidence_rules other WHERE other.competency_id = rule.competency_id);

-- Every wording as it was kept, whole.
CREATE TABLE competency_versions (
  competency_id INTEGER NOT NULL REFERENCES competencies (id),
  version INTEGER NOT NULL,
  content TEXT NOT NULL CHECK (json_valid(content)),
  -- Null: it came with the program.
  kept_by INTEGER REFERENCES people (id),
  at TEXT NOT NULL,
  PRIMARY KEY (competency_id, version)
) STRICT, WITHOUT ROWID;
INSERT INTO competency_versions
  SELECT id, 1, json_object('code', code, 'title', title, 'statement', '', 'course', ''), NULL, created_at FROM competencies;

-- A coordinator's word on one person and one competency, against or before what the evidence says; the newest counts.
CREATE TABLE competency_words (
  id INTEGER PRIMARY KEY,
  competency_id INTEGER NOT NULL REFERENCES competencies (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  word TEXT NOT NULL CHECK (word IN ('granted', 'revoked', 'lifted')),
  reason TEXT NOT NULL CHECK (length(trim(reason)) BETWEEN 1 AND 1000),
  said_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX competency_words_by_student ON competency_words (student_id, competency_id, id);

-- Terms of the program, for what is renewed each term. Days are first and last, both belong to it.
CREATE TABLE terms (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  begins_on TEXT NOT NULL,
  ends_on TEXT NOT NULL,
  CHECK (begins_on <= ends_on)
) STRICT;

CREATE TRIGGER grade_facts_keep_update BEFORE UPDATE ON grade_facts BEGIN SELECT RAISE(ABORT, 'grade facts are only ever added to'); END;
CREATE TRIGGER grade_facts_keep_delete BEFORE DELETE ON grade_facts BEGIN SELECT RAISE(ABORT, 'grade facts are only ever added to'); END;
CREATE TRIGGER competency_versions_keep_update BEFORE UPDATE ON competency_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER competency_versions_keep_delete BEFORE DELETE ON competency_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER competency_words_keep_update BEFORE UPDATE ON competency_words BEGIN SELECT RAISE(ABORT, 'a coordinator''s words are only ever added to'); END;
CREATE TRIGGER competency_words_keep_delete BEFORE DELETE ON competency_words BEGIN SELECT RAISE(ABORT, 'a coordinator''s words are only ever added to'); END;
CREATE INDEX attempts_by_item ON attempts (item_id, student_id);
CREATE INDEX sign_offs_by_item ON sign_offs (item_id, student_id);
