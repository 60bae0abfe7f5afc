-- The school and the term of a class, as the OneRoster set named them: scores go back with them.
ALTER TABLE sections ADD COLUMN class_school_sourced_id TEXT;
ALTER TABLE sections ADD COLUMN class_term_sourced_id TEXT;
