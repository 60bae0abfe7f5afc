-- Who may sign off work, on what ground, from when to when. The newest entry of a person holds; what was entered stays.
CREATE TABLE assessor_entries (
  id INTEGER PRIMARY KEY,
  person_id INTEGER NOT NULL REFERENCES people (id),
  basis TEXT NOT NULL CHECK (length(trim(basis)) BETWEEN 1 AND 500),
  from_on TEXT NOT NULL,
  -- The last day; null for no end.
  until_on TEXT CHECK (until_on IS NULL OR until_on >= from_on),
  entered_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE INDEX assessor_entries_by_person ON assessor_entries (person_id, id);
CREATE TRIGGER assessor_entries_keep_update BEFORE UPDATE ON assessor_entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added to'); END;
CREATE TRIGGER assessor_entries_keep_delete BEFORE DELETE ON assessor_entries BEGIN SELECT RAISE(ABORT, 'entries are only ever added to'); END;

-- What was poor, and what was changed for it.
CREATE TABLE improvements (
  id INTEGER PRIMARY KEY,
  found TEXT NOT NULL CHECK (length(trim(found)) BETWEEN 1 AND 1000),
  changed TEXT NOT NULL CHECK (length(trim(changed)) BETWEEN 1 AND 1000),
  noted_by INTEGER NOT NULL REFERENCES people (id),
  at TEXT NOT NULL
) STRICT;
CREATE TRIGGER improvements_keep_update BEFORE UPDATE ON improvements BEGIN SELECT RAISE(ABORT, 'notes are only ever added to'); END;
CREATE TRIGGER improvements_keep_delete BEFORE DELETE ON improvements BEGIN SELECT RAISE(ABORT, 'notes are only ever added to'); END;

-- That somebody of the staff looked at one student's record outside their own sections.
CREATE TABLE record_looks (
  id INTEGER PRIMARY KEY,
  looked_by INTEGER NOT NULL REFERENCES people (id),
  student_id INTEGER NOT NULL REFERENCES people (id),
  what TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;
CREATE INDEX record_looks_by_student ON record_looks (student_id, at);
CREATE TRIGGER record_looks_keep_update BEFORE UPDATE ON record_looks BEGIN SELECT RAISE(ABORT, 'looks are only ever added to'); END;
CREATE TRIGGER record_looks_keep_delete BEFORE DELETE ON record_looks BEGIN SELECT RAISE(ABORT, 'looks are only ever added to'); END;

-- Who did what to the record, when and why: read from the tables that are only ever added to, so that nothing is kept twice and nothing is missed.
CREATE VIEW audit_events AS
  SELECT 'export' AS kind, 'export-' || e.id AS ref, e.at, e.person_id AS who_id,
    (SELECT CASE count(*) WHEN 1 THEN max(s.student_id) END FROM export_students s WHERE s.export_id = e.id) AS about_id,
    e.what || coalesce((SELECT ' ' || t.code FROM transcripts t WHERE t.export_id = e.id), '') || CASE e.recipient WHEN '' THEN '' ELSE ', for ' || e.recipient || ': ' || e.purpose END AS what, '' AS reason
  FROM exports e
  UNION ALL
  SELECT 'export', 'withdrawal-' || w.code, w.at, w.withdrawn_by, t.student_id, 'Transcript ' || w.code || ' withdrawn', w.reason
  FROM transcript_withdrawals w JOIN transcripts t ON t.code = w.code
  UNION ALL
  SELECT 'points', 'points-' || c.id, c.at, c.changed_by, a.student_id,
    'Points of ' || i.title || ' changed to ' || round(c.set_up + c.procedure + c.reading + c.verdict, 1), c.reason
  FROM grade_changes c JOIN attempts a ON a.id = c.attempt_id JOIN lab_sheet_items i ON i.id = a.item_id
  UNION ALL
  SELECT 'tries', 'try-' || f.id, f.at, f.given_by, f.student_id, 'One more try at ' || i.title, f.reason
  FROM further_tries f JOIN lab_sheet_items i ON i.id = f.item_id
  UNION ALL
  SELECT 'tries', 'time-' || x.id, x.at, x.given_by, x.person_id, 'Extra time for ' || b.title, x.reason
  FROM extensions x JOIN lab_sheets b ON b.id = x.lab_sheet_id
  UNION ALL
  SELECT 'word', 'word-' || w.id, w.at, w.said_by, w.student_id, c.code || ' ' || w.word || ' by word', w.reason
  FROM competency_words w JOIN competencies c ON c.id = w.competency_id
  UNION ALL
  SELECT 'rule', 'rule-' || r.id, r.in_force_from, r.made_by, NULL, 'Rule of ' || c.code || ', version ' || r.version, r.reason
  FROM evidence_rules r JOIN competencies c ON c.id = r.competency_id
  UNION ALL
  SELECT 'rule', 'wording-' || v.competency_id || '-' || v.version, v.at, v.kept_by, NULL,
    'Wording of ' || json_extract(v.content, '$.code') || ', version ' || v.version, ''
  FROM competency_versions v
  UNION ALL
  SELECT 'signature', 'signature-' || s.id, s.arrived_at, s.person_id, o.student_id,
    i.title || ', signed as ' || s.role || CASE WHEN s.outcome IS NULL THEN '' WHEN json_extract(s.outcome, '$.passed') THEN ', passed' ELSE ', not passed' END, ''
  FROM sign_off_signatures s JOIN sign_offs o ON o.id = s.sign_off_id JOIN lab_sheet_items i ON i.id = o.item_id
  UNION ALL
  SELECT 'roster', 'seat-' || s.section_id || '-' || s.person_id, s.added_at, s.added_by, s.person_id, 'Put into ' || c.name || ', ' || c.term, ''
  FROM section_students s JOIN sections c ON c.id = s.section_id
  UNION ALL
  SELECT 'roster', 'left-' || l.id, l.left_at, l.taken_off_by, l.person_id, 'Taken out of ' || c.name || ', ' || c.term, ''
  FROM section_leavers l JOIN sections c ON c.id = l.section_id
  UNION ALL
  SELECT 'gauge', 'check-' || k.id, k.at, k.noted_by, NULL,
    'Check of ' || g.kind || ' ' || g.number || CASE k.passed WHEN 1 THEN ', passed, due ' ELSE ', not passed, due ' END || k.due_on, k.note
  FROM shop_gauge_checks k JOIN shop_gauges g ON g.id = k.gauge_id
  UNION ALL
  SELECT 'look', 'look-' || l.id, l.at, l.looked_by, l.student_id, 'Looked at ' || l.what, ''
  FROM record_looks l
  UNION ALL
  SELECT 'assessor', 'assessor-' || a.id, a.at, a.entered_by, a.person_id,
    'May sign from ' || a.from_on || coalesce(' to ' || a.until_on, ''), a.basis
  FROM assessor_entries a
  UNION ALL
  SELECT 'change', 'change-' || m.id, m.at, m.noted_by, NULL, m.changed, m.found
  FROM improvements m;
