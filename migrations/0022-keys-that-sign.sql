-- Keys the server signs credentials with. The newest that is not retired signs; the public part of every one stays published, or what it signed could not
-- be checked any more. `sealed` is the private part, encrypted with a key that comes from the session secret and is not in this database.
CREATE TABLE signing_keys (
  id TEXT PRIMARY KEY,
  public_jwk TEXT NOT NULL CHECK (json_valid(public_jwk)),
  sealed TEXT NOT NULL,
  made_at TEXT NOT NULL,
  retired_at TEXT
) STRICT, WITHOUT ROWID;

-- What the program and its framework of competencies are called by machines, for good.
ALTER TABLE program ADD COLUMN uuid TEXT NOT NULL DEFAULT '';
UPDATE program SET uuid = lower(printf('%s-%s-4%s-%s%s-%s', hex(randomblob(4)), hex(randomblob(2)), substr(hex(randomblob(2)), 2), substr('89ab', 1 + abs(random() % 4), 1), substr(hex(randomblob(2)), 2), hex(randomblob(6))));
