-- The queue sorted by a part of the score: read off an index, not sorted anew for every page.
CREATE INDEX cases_by_novelty ON cases (state, json_extract(interest, '$.marks.novelty') DESC, score DESC, id);
CREATE INDEX cases_by_severity ON cases (state, json_extract(interest, '$.marks.severity') DESC, score DESC, id);
CREATE INDEX cases_by_uncertainty ON cases (state, json_extract(interest, '$.marks.uncertainty') DESC, score DESC, id);
DROP INDEX cases_by_people;
CREATE INDEX cases_by_people ON cases (state, people DESC, score DESC, id);
