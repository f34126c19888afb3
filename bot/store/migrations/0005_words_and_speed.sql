-- Whose wording a case still carries: the message that brought it, '' where that is not known any more, NULL once the
-- wording is gone. Words go when their author asks, and after their time.
ALTER TABLE cases ADD COLUMN brought_by TEXT;
UPDATE cases SET brought_by = COALESCE(
  (SELECT message_id FROM tags WHERE case_id = cases.id ORDER BY tags.rowid LIMIT 1), ''
) WHERE fingerprint NOT LIKE 'withdrawn:%';
CREATE INDEX cases_by_bringer ON cases (brought_by) WHERE brought_by IS NOT NULL;
CREATE INDEX cases_over ON cases (last_seen) WHERE brought_by IS NOT NULL AND state IN ('seen', 'dropped');
CREATE INDEX inbox_words ON inbox (received_at) WHERE text <> '' AND state <> 'waiting';

-- Who ruled stands in the audit trail beside the ruling; one raw id of the staff is enough.
ALTER TABLE rulings DROP COLUMN ruled_by;

-- What is asked of a million tags is read off narrow rows.
CREATE INDEX tags_by_time ON tags (tagged_at, recipe_index, kind, case_id, message_id);
CREATE INDEX outbox_times ON outbox (message_id, part, sent_at) WHERE sent_at IS NOT NULL;
CREATE INDEX cases_sketches ON cases (id, sketch) WHERE sketch IS NOT NULL;
CREATE TABLE case_hazards (
  hazard  TEXT NOT NULL,
  case_id INTEGER NOT NULL REFERENCES cases (id) ON DELETE CASCADE,
  PRIMARY KEY (hazard, case_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX case_hazards_by_case ON case_hazards (case_id);
INSERT INTO case_hazards SELECT DISTINCT value, cases.id FROM cases, json_each(cases.sketch, '$.hazards')
  WHERE sketch IS NOT NULL;
-- The verdict beside every order, so that a page of one verdict is read off the index as well.
DROP INDEX cases_by_score;
CREATE INDEX cases_by_score ON cases (state, score DESC, id, verdict);
DROP INDEX cases_by_people;
CREATE INDEX cases_by_people ON cases (state, people DESC, score DESC, id, verdict);
DROP INDEX cases_by_age;
CREATE INDEX cases_by_age ON cases (state, last_seen DESC, id, verdict);
DROP INDEX cases_by_novelty;
CREATE INDEX cases_by_novelty ON cases (state, json_extract(interest, '$.marks.novelty') DESC, score DESC, id, verdict);
DROP INDEX cases_by_severity;
CREATE INDEX cases_by_severity ON cases (state, json_extract(interest, '$.marks.severity') DESC, score DESC, id, verdict);
DROP INDEX cases_by_uncertainty;
CREATE INDEX cases_by_uncertainty ON cases (state, json_extract(interest, '$.marks.uncertainty') DESC, score DESC, id, verdict);
