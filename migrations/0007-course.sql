-- A lesson's key: a folder of the course, or `own-` and the number of an instructor's own lesson. An upgrade brings other folders and touches none of this.

-- Lessons that instructors write. Each version is kept; the last one is shown.
CREATE TABLE own_lessons (
  id INTEGER PRIMARY KEY,
  made_by INTEGER NOT NULL REFERENCES people (id),
  -- The folder of the lesson it is a version of; null for one of its own.
  based_on TEXT,
  at TEXT NOT NULL
) STRICT;
CREATE INDEX own_lessons_by_maker ON own_lessons (made_by);

CREATE TABLE own_lesson_versions (
  id INTEGER PRIMARY KEY,
  own_lesson_id INTEGER NOT NULL REFERENCES own_lessons (id),
  title TEXT NOT NULL CHECK (length(trim(title)) BETWEEN 1 AND 120),
  minutes INTEGER NOT NULL CHECK (minutes BETWEEN 1 AND 240),
  -- One aim a line.
  aims TEXT NOT NULL,
  body TEXT NOT NULL CHECK (length(body) <= 200000),
  sources TEXT NOT NULL,
  cautions INTEGER NOT NULL CHECK (cautions IN (0, 1)),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX own_lesson_versions_by_lesson ON own_lesson_versions (own_lesson_id, id);

CREATE TABLE lesson_images (
  id TEXT PRIMARY KEY,
  own_lesson_id INTEGER NOT NULL REFERENCES own_lessons (id),
  name TEXT NOT NULL,
  type TEXT NOT NULL CHECK (type IN ('image/png', 'image/jpeg', 'image/webp')),
  bytes BLOB NOT NULL,
  at TEXT NOT NULL
) STRICT;
CREATE INDEX lesson_images_by_lesson ON lesson_images (own_lesson_id);

-- Which lessons a section reads, in which order, and from which day. Without a line the course stands as it ships.
CREATE TABLE section_lessons (
  section_id INTEGER NOT NULL REFERENCES sections (id),
  lesson_key TEXT NOT NULL,
  ordinal INTEGER NOT NULL,
  hidden INTEGER NOT NULL CHECK (hidden IN (0, 1)),
  -- The first day it may be read, as YYYY-MM-DD; null at once.
  release_on TEXT CHECK (release_on IS NULL OR release_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  PRIMARY KEY (section_id, lesson_key)
) STRICT, WITHOUT ROWID;

-- When a person opened a lesson first, and when they said that they had read it.
CREATE TABLE lesson_reads (
  person_id INTEGER NOT NULL REFERENCES people (id),
  lesson_key TEXT NOT NULL,
  what TEXT NOT NULL CHECK (what IN ('opened', 'read')),
  at TEXT NOT NULL,
  PRIMARY KEY (person_id, lesson_key, what)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER own_lesson_versions_keep_update BEFORE UPDATE ON own_lesson_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
CREATE TRIGGER own_lesson_versions_keep_delete BEFORE DELETE ON own_lesson_versions BEGIN SELECT RAISE(ABORT, 'versions are only ever added to'); END;
