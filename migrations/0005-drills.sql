-- Dial-reading drills: rounds of dials, what was done at each, and what was answered. Only ever added to; what is believed of a learner
-- is folded from the answers and stored nowhere.
CREATE TABLE drill_rounds (
  id TEXT PRIMARY KEY,
  student_id INTEGER NOT NULL REFERENCES people (id),
  dials INTEGER NOT NULL CHECK (dials > 0),
  started_at TEXT NOT NULL
) STRICT;
CREATE INDEX drill_rounds_by_student ON drill_rounds (student_id, started_at);

CREATE TABLE drill_dials (
  round_id TEXT NOT NULL REFERENCES drill_rounds (id),
  number INTEGER NOT NULL CHECK (number > 0),
  -- What the dial was chosen for; none where everything counted as known.
  skill TEXT,
  definition TEXT NOT NULL CHECK (json_valid(definition)),
  seed TEXT NOT NULL,
  engine_version TEXT NOT NULL,
  at TEXT NOT NULL,
  PRIMARY KEY (round_id, number)
) STRICT, WITHOUT ROWID;

CREATE TABLE drill_actions (
  round_id TEXT NOT NULL,
  number INTEGER NOT NULL,
  seq INTEGER NOT NULL CHECK (seq >= 0),
  action TEXT NOT NULL CHECK (json_valid(action)),
  at TEXT NOT NULL,
  PRIMARY KEY (round_id, number, seq),
  FOREIGN KEY (round_id, number) REFERENCES drill_dials (round_id, number)
) STRICT, WITHOUT ROWID;

-- One answer a dial, as typed and as read, with its grade and what it says of each skill.
CREATE TABLE drill_answers (
  round_id TEXT NOT NULL,
  number INTEGER NOT NULL,
  typed TEXT NOT NULL CHECK (json_valid(typed)),
  sheet TEXT NOT NULL CHECK (json_valid(sheet)),
  action_count INTEGER NOT NULL CHECK (action_count > 0),
  engine_version TEXT NOT NULL,
  grade TEXT NOT NULL CHECK (json_valid(grade)),
  observations TEXT NOT NULL CHECK (json_valid(observations)),
  -- The dial as it was drawn, and the movement and the reading in its graduations, so that a record of years needs no dial drawn again.
  dial TEXT NOT NULL CHECK (json_valid(dial)),
  shown_graduations REAL NOT NULL,
  written_graduations REAL NOT NULL,
  at TEXT NOT NULL,
  PRIMARY KEY (round_id, number),
  FOREIGN KEY (round_id, number) REFERENCES drill_dials (round_id, number)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER drill_rounds_keep_update BEFORE UPDATE ON drill_rounds BEGIN SELECT RAISE(ABORT, 'rounds are only ever added to'); END;
CREATE TRIGGER drill_rounds_keep_delete BEFORE DELETE ON drill_rounds BEGIN SELECT RAISE(ABORT, 'rounds are only ever added to'); END;
CREATE TRIGGER drill_dials_keep_update BEFORE UPDATE ON drill_dials BEGIN SELECT RAISE(ABORT, 'dials are only ever added to'); END;
CREATE TRIGGER drill_dials_keep_delete BEFORE DELETE ON drill_dials BEGIN SELECT RAISE(ABORT, 'dials are only ever added to'); END;
CREATE TRIGGER drill_actions_keep_update BEFORE UPDATE ON drill_actions BEGIN SELECT RAISE(ABORT, 'actions are only ever added to'); END;
CREATE TRIGGER drill_actions_keep_delete BEFORE DELETE ON drill_actions BEGIN SELECT RAISE(ABORT, 'actions are only ever added to'); END;
CREATE TRIGGER drill_answers_keep_update BEFORE UPDATE ON drill_answers BEGIN SELECT RAISE(ABORT, 'answers are only ever added to'); END;
CREATE TRIGGER drill_answers_keep_delete BEFORE DELETE ON drill_answers BEGIN SELECT RAISE(ABORT, 'answers are only ever added to'); END;
-- Nothing more is done at a dial that has been answered.
CREATE TRIGGER drill_actions_closed BEFORE INSERT ON drill_actions
WHEN EXISTS (SELECT 1 FROM drill_answers WHERE round_id = NEW.round_id AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'this dial has been answered'); END;
