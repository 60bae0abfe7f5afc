-- Who may sign in, and the sessions they hold.
CREATE TABLE people (
  id INTEGER PRIMARY KEY,
  role TEXT NOT NULL CHECK (role IN ('student', 'instructor', 'coordinator')),
  given_name TEXT NOT NULL,
  family_name TEXT NOT NULL,
  -- What is typed at sign-in: the student number for students. Compared without regard to case.
  sign_in_name TEXT NOT NULL COLLATE NOCASE UNIQUE,
  student_number TEXT UNIQUE,
  email TEXT,
  -- Empty until an instructor gives a first password.
  password_hash TEXT,
  must_change_password INTEGER NOT NULL DEFAULT 0 CHECK (must_change_password IN (0, 1)),
  demo INTEGER NOT NULL DEFAULT 0 CHECK (demo IN (0, 1)),
  created_at TEXT NOT NULL,
  CHECK ((role = 'student') = (student_number IS NOT NULL))
) STRICT;

CREATE TABLE sessions (
  -- SHA-256 of the identifier in the cookie, so that a stolen database opens no session.
  id_hash TEXT PRIMARY KEY,
  person_id INTEGER REFERENCES people (id) ON DELETE CASCADE,
  data TEXT NOT NULL,
  created_at TEXT NOT NULL,
  expires_at TEXT NOT NULL
) STRICT;
CREATE INDEX sessions_by_person ON sessions (person_id);
CREATE INDEX sessions_by_expiry ON sessions (expires_at);
