-- Every row that was added, changed or taken away, one entry each, in order. `hash` holds the digest of the row as it then stood (32 bytes; noughts for
-- one that was taken away), then the link: the digest of the link before it and of this entry. Written by triggers that each connection of the program
-- makes for itself: a change by another way leaves no entry, and is found.
CREATE TABLE chain (
  seq INTEGER PRIMARY KEY,
  tab TEXT NOT NULL,
  -- Added, changed, gone.
  op TEXT NOT NULL CHECK (op IN ('+', '~', '-')),
  -- The primary key, as JSON.
  key TEXT NOT NULL,
  at TEXT NOT NULL,
  hash BLOB NOT NULL CHECK (length(hash) = 64)
) STRICT;
CREATE TRIGGER chain_keep_update BEFORE UPDATE ON chain BEGIN SELECT RAISE(ABORT, 'the chain is only ever added to'); END;
CREATE TRIGGER chain_keep_delete BEFORE DELETE ON chain BEGIN SELECT RAISE(ABORT, 'the chain is only ever added to'); END;
