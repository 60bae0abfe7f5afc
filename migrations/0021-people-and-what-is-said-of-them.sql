-- The program itself, one row.
CREATE TABLE program (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL,
  -- Where others reach this server, such as https://dialbench.example; blank: wherever it is asked.
  address TEXT NOT NULL
) STRICT;
INSERT INTO program VALUES (1, '', '');

-- A name for machines that says nothing of the person.
ALTER TABLE people ADD COLUMN uuid TEXT;
UPDATE people SET uuid = lower(printf('%s-%s-4%s-%s%s-%s', hex(randomblob(4)), hex(randomblob(2)), substr(hex(randomblob(2)), 2), substr('89ab', 1 + abs(random() % 4), 1), substr(hex(randomblob(2)), 2), hex(randomblob(6))));
CREATE UNIQUE INDEX people_by_uuid ON people (uuid);
CREATE TRIGGER people_have_uuid AFTER INSERT ON people WHEN NEW.uuid IS NULL BEGIN
  UPDATE people SET uuid = lower(printf('%s-%s-4%s-%s%s-%s', hex(randomblob(4)), hex(randomblob(2)), substr(hex(randomblob(2)), 2), substr('89ab', 1 + abs(random() % 4), 1), substr(hex(randomblob(2)), 2), hex(randomblob(6)))) WHERE id = NEW.id;
END;

-- Whose name a transcript bears: apart from it, so that a name can be taken away and the rest stays as it was printed.
CREATE TABLE transcript_names (
  code TEXT PRIMARY KEY REFERENCES transcripts (code),
  given_name TEXT NOT NULL,
  family_name TEXT NOT NULL,
  student_number TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- A transcript that says something wrong is taken back; it can't be called in.
CREATE TABLE transcript_withdrawals (
  code TEXT PRIMARY KEY REFERENCES transcripts (code),
  reason TEXT NOT NULL CHECK (length(trim(reason)) BETWEEN 1 AND 500),
  withdrawn_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TRIGGER transcript_withdrawals_keep_update BEFORE UPDATE ON transcript_withdrawals BEGIN SELECT RAISE(ABORT, 'withdrawals are only ever added to'); END;
CREATE TRIGGER transcript_withdrawals_keep_delete BEFORE DELETE ON transcript_withdrawals BEGIN SELECT RAISE(ABORT, 'withdrawals are only ever added to'); END;
