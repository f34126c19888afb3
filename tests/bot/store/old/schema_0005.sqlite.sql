BEGIN TRANSACTION;
CREATE TABLE audit (
  id         INTEGER PRIMARY KEY,
  at         INTEGER NOT NULL,
  who        TEXT NOT NULL,
  action     TEXT NOT NULL,
  case_id    INTEGER,
  message_id TEXT,
  detail     TEXT NOT NULL,
  undone     INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;
INSERT INTO "audit" VALUES(1,1750000003000,'creator','rule',1,NULL,'{"state_before":"queued","ruling":1}',0);
INSERT INTO "audit" VALUES(2,1750000003001,'710000000000000001','rule',2,NULL,'{"state_before":"queued","ruling":2}',0);
CREATE TABLE cards (
  case_id    INTEGER PRIMARY KEY REFERENCES cases (id) ON DELETE CASCADE,
  channel    TEXT NOT NULL,
  message_id TEXT NOT NULL,
  shown      TEXT NOT NULL
) STRICT;
INSERT INTO "cards" VALUES(1,'desk','3001','x');
CREATE TABLE case_hazards (
  hazard  TEXT NOT NULL,
  case_id INTEGER NOT NULL REFERENCES cases (id) ON DELETE CASCADE,
  PRIMARY KEY (hazard, case_id)
) STRICT, WITHOUT ROWID;
INSERT INTO "case_hazards" VALUES('needs_preservative',2);
INSERT INTO "case_hazards" VALUES('needs_preservative',3);
INSERT INTO "case_hazards" VALUES('needs_preservative',4);
CREATE TABLE cases (
  id          INTEGER PRIMARY KEY,
  fingerprint TEXT NOT NULL UNIQUE,
  title       TEXT NOT NULL,
  verdict     TEXT CHECK (verdict IN ('avoid', 'fix', 'fine', 'unclear')),
  sketch      TEXT,
  recipe      TEXT,
  assessment  TEXT,
  state       TEXT NOT NULL DEFAULT 'seen' CHECK (state IN ('seen', 'queued', 'taken', 'dropped', 'ruled')),
  score       REAL NOT NULL,
  interest    TEXT NOT NULL,
  people      INTEGER NOT NULL DEFAULT 0,
  first_seen  INTEGER NOT NULL,
  last_seen   INTEGER NOT NULL
, brought_by TEXT) STRICT;
INSERT INTO "cases" VALUES(1,'f1','lip balm: beeswax and coconut oil','fine',NULL,NULL,NULL,'ruled',0.4,'{"why":[],"marks":{}}',1,1750000000000,1750000000000,'1001');
INSERT INTO "cases" VALUES(2,'fix|face|needs_preservative|?moonwort~-3|water~0','water and moonwort','fix','{"shares":{"water":0.9,"?moonwort":0.1},"sites":["face"],"verdict":"fix","hazards":["needs_preservative"]}','{"lines":[{"as_written":"water","name":"water","span":[0,5],"substance":"water","amount":{"quantity":{"low":90.0,"best":90.0,"high":90.0},"unit":"g","written":[90.0,90.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]},{"as_written":"moonwort","name":"moonwort","span":[0,8],"substance":null,"amount":{"quantity":{"low":10.0,"best":10.0,"high":10.0},"unit":"g","written":[10.0,10.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]}],"product":null,"sites":["face"],"contact":null,"keeping":null,"claims":[],"circumstances":[],"guessed":false,"aside":[]}','{"shares":[{"grams":{"low":90.0,"best":90.0,"high":90.0},"percent":{"low":90.0,"best":90.0,"high":90.0},"estimated":false},{"grams":{"low":10.0,"best":10.0,"high":10.0},"percent":{"low":10.0,"best":10.0,"high":10.0},"estimated":false}],"measures":{"water_percent":null,"water_activity":null,"ph":null,"ethanol_percent":null,"preservative_effective":null,"oil_percent":null,"settling_minutes":null,"flash_point_celsius":null,"statements":[]},"findings":[{"hazard":"needs_preservative","severity":"fix","reason":"no_such_phrase","instead":"no_such_phrase","basis":"computed","sources":[],"substance":null,"line":null,"value":{"low":0.98,"best":0.98,"high":0.98},"limit":{"low":0.91,"best":0.91,"high":0.91},"unit":"water_activity","facts":{},"region":null,"condition":null}],"virtues":[],"verdict":"fix","question":null,"asked_about":null,"not_understood":[1],"sites":[],"contact":null,"taken_for":null}','ruled',0.3,'{"why":[],"marks":{}}',1,1750000000000,1750000000000,'1001');
INSERT INTO "cases" VALUES(3,'f3','water and moonwort','fix','{"shares":{"water":0.9,"?moonwort":0.1},"sites":["face"],"verdict":"fix","hazards":["needs_preservative"]}','{"lines":[{"as_written":"water","name":"water","span":[0,5],"substance":"water","amount":{"quantity":{"low":90.0,"best":90.0,"high":90.0},"unit":"g","written":[90.0,90.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]},{"as_written":"moonwort","name":"moonwort","span":[0,8],"substance":null,"amount":{"quantity":{"low":10.0,"best":10.0,"high":10.0},"unit":"g","written":[10.0,10.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]}],"product":null,"sites":["face"],"contact":null,"keeping":null,"claims":[],"circumstances":[],"guessed":false,"aside":[]}','{"shares":[{"grams":{"low":90.0,"best":90.0,"high":90.0},"percent":{"low":90.0,"best":90.0,"high":90.0},"estimated":false},{"grams":{"low":10.0,"best":10.0,"high":10.0},"percent":{"low":10.0,"best":10.0,"high":10.0},"estimated":false}],"measures":{"water_percent":null,"water_activity":null,"ph":null,"ethanol_percent":null,"preservative_effective":null,"oil_percent":null,"settling_minutes":null,"flash_point_celsius":null,"statements":[]},"findings":[{"hazard":"needs_preservative","severity":"fix","reason":"no_such_phrase","instead":"no_such_phrase","basis":"computed","sources":[],"substance":null,"line":null,"value":{"low":0.98,"best":0.98,"high":0.98},"limit":{"low":0.91,"best":0.91,"high":0.91},"unit":"water_activity","facts":{},"region":null,"condition":null}],"virtues":[],"verdict":"fix","question":null,"asked_about":null,"not_understood":[1],"sites":[],"contact":null,"taken_for":null}','dropped',0.3,'{"why":[],"marks":{}}',1,1750000000000,1750000000000,'');
INSERT INTO "cases" VALUES(4,'withdrawn:4','water and moonwort','fix','{"shares":{"water":0.9,"?moonwort":0.1},"sites":["face"],"verdict":"fix","hazards":["needs_preservative"]}','{"lines":[{"as_written":"water","name":"water","span":[0,5],"substance":"water","amount":{"quantity":{"low":90.0,"best":90.0,"high":90.0},"unit":"g","written":[90.0,90.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]},{"as_written":"moonwort","name":"moonwort","span":[0,8],"substance":null,"amount":{"quantity":{"low":10.0,"best":10.0,"high":10.0},"unit":"g","written":[10.0,10.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]}],"product":null,"sites":["face"],"contact":null,"keeping":null,"claims":[],"circumstances":[],"guessed":false,"aside":[]}','{"shares":[{"grams":{"low":90.0,"best":90.0,"high":90.0},"percent":{"low":90.0,"best":90.0,"high":90.0},"estimated":false},{"grams":{"low":10.0,"best":10.0,"high":10.0},"percent":{"low":10.0,"best":10.0,"high":10.0},"estimated":false}],"measures":{"water_percent":null,"water_activity":null,"ph":null,"ethanol_percent":null,"preservative_effective":null,"oil_percent":null,"settling_minutes":null,"flash_point_celsius":null,"statements":[]},"findings":[{"hazard":"needs_preservative","severity":"fix","reason":"no_such_phrase","instead":"no_such_phrase","basis":"computed","sources":[],"substance":null,"line":null,"value":{"low":0.98,"best":0.98,"high":0.98},"limit":{"low":0.91,"best":0.91,"high":0.91},"unit":"water_activity","facts":{},"region":null,"condition":null}],"virtues":[],"verdict":"fix","question":null,"asked_about":null,"not_understood":[1],"sites":[],"contact":null,"taken_for":null}','seen',0.3,'{"why":[],"marks":{}}',1,1750000000000,1750000000000,NULL);
CREATE TABLE episodes (
  id           INTEGER PRIMARY KEY,
  title        TEXT NOT NULL,
  note         TEXT NOT NULL DEFAULT '',
  address      TEXT,
  made_at      INTEGER NOT NULL,
  published_at INTEGER
) STRICT;
CREATE TABLE followers (
  message_id TEXT PRIMARY KEY REFERENCES inbox (message_id) ON DELETE CASCADE,
  asked_at   INTEGER NOT NULL,
  told_at    INTEGER
) STRICT;
CREATE TABLE inbox (
  message_id  TEXT PRIMARY KEY,
  channel     TEXT NOT NULL,
  author_key  TEXT NOT NULL,
  text        TEXT NOT NULL,
  received_at INTEGER NOT NULL,
  urgent      INTEGER NOT NULL DEFAULT 0 CHECK (urgent IN (0, 1)),
  state       TEXT NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'done', 'aside')),
  attempts    INTEGER NOT NULL DEFAULT 0,
  starts      INTEGER NOT NULL DEFAULT 0,
  error       TEXT
) STRICT;
INSERT INTO "inbox" VALUES('1001','lane','k1','Lip balm: 1 tbsp beeswax, 2 tbsp coconut oil',1750000000000,0,'done',0,1,NULL);
INSERT INTO "inbox" VALUES('1002','lane','k2','Face mist: 1 cup rose water',1750000001000,0,'waiting',0,0,NULL);
INSERT INTO "inbox" VALUES('1003','lane','k3','a hard one',1750000002000,0,'aside',3,0,'Fault');
CREATE TABLE marks (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;
INSERT INTO "marks" VALUES('last_seen','1002');
CREATE TABLE notes (
  case_id    INTEGER PRIMARY KEY REFERENCES cases (id) ON DELETE CASCADE,
  written_at INTEGER NOT NULL,
  message_id TEXT
) STRICT;
CREATE TABLE outbox (
  message_id          TEXT NOT NULL REFERENCES inbox (message_id) ON DELETE CASCADE,
  part                INTEGER NOT NULL,
  nonce               TEXT NOT NULL UNIQUE,
  channel             TEXT NOT NULL,
  text                TEXT NOT NULL,
  more                TEXT,
  urgent              INTEGER NOT NULL DEFAULT 0 CHECK (urgent IN (0, 1)),
  state               TEXT NOT NULL DEFAULT 'pending' CHECK (state IN ('pending', 'sent', 'failed')),
  platform_message_id TEXT,
  error               TEXT,
  created_at          INTEGER NOT NULL,
  sent_at             INTEGER, news INTEGER NOT NULL DEFAULT 0 CHECK (news IN (0, 1)),
  PRIMARY KEY (message_id, part)
) STRICT;
INSERT INTO "outbox" VALUES('1001',0,'1001-0','lane','Fine as it is.','more',0,'sent','2001',NULL,1750000000500,1750000000900,0);
INSERT INTO "outbox" VALUES('1003',0,'1003-0','lane','set aside',NULL,0,'pending',NULL,NULL,1750000002500,NULL,0);
CREATE TABLE quiet (
  author_key TEXT PRIMARY KEY,
  since      INTEGER NOT NULL
) STRICT;
INSERT INTO "quiet" VALUES('k9',1750000000000);
CREATE TABLE replies (
  message_id TEXT PRIMARY KEY,
  channel    TEXT NOT NULL,
  reply_id   TEXT,
  removed    INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)),
  subject_id TEXT,
  token      TEXT,
  place      TEXT
) STRICT;
INSERT INTO "replies" VALUES('1001','lane','2001',0,NULL,NULL,NULL);
CREATE TABLE rulings (
  id        INTEGER PRIMARY KEY,
  case_id   INTEGER NOT NULL REFERENCES cases (id) ON DELETE CASCADE,
  verdict   TEXT NOT NULL CHECK (verdict IN ('avoid', 'fix', 'fine', 'unclear')),
  words     TEXT NOT NULL,
  why       TEXT,
  ruled_at  INTEGER NOT NULL,
  undone_at INTEGER
) STRICT;
INSERT INTO "rulings" VALUES(1,1,'fine','Good as it stands.',NULL,1750000003000,NULL);
INSERT INTO "rulings" VALUES(2,2,'avoid','No moonwort.',NULL,1750000003000,NULL);
CREATE TABLE segments (
  id         INTEGER PRIMARY KEY,
  episode_id INTEGER NOT NULL REFERENCES episodes (id) ON DELETE CASCADE,
  case_id    INTEGER REFERENCES cases (id) ON DELETE SET NULL,
  place      INTEGER NOT NULL,
  seconds    INTEGER NOT NULL CHECK (seconds > 0),
  note       TEXT NOT NULL DEFAULT '',
  UNIQUE (episode_id, case_id)
) STRICT;
CREATE TABLE tags (
  message_id   TEXT NOT NULL REFERENCES inbox (message_id) ON DELETE CASCADE,
  recipe_index INTEGER NOT NULL,
  case_id      INTEGER REFERENCES cases (id) ON DELETE SET NULL,
  author_key   TEXT NOT NULL,
  channel      TEXT NOT NULL,
  kind         TEXT NOT NULL,
  language     TEXT NOT NULL,
  recipe       TEXT,
  tagged_at    INTEGER NOT NULL,
  PRIMARY KEY (message_id, recipe_index)
) STRICT;
INSERT INTO "tags" VALUES('1001',0,1,'k1','lane','recipe','en',NULL,1750000000000);
INSERT INTO "tags" VALUES('1001',1,2,'k1','lane','recipe','en','{"lines":[{"as_written":"water","name":"water","span":[0,5],"substance":"water","amount":{"quantity":{"low":90.0,"best":90.0,"high":90.0},"unit":"g","written":[90.0,90.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]},{"as_written":"moonwort","name":"moonwort","span":[0,8],"substance":null,"amount":{"quantity":{"low":10.0,"best":10.0,"high":10.0},"unit":"g","written":[10.0,10.0],"estimated":false},"optional":false,"alternative_of":null,"qualities":[]}],"product":null,"sites":["face"],"contact":null,"keeping":null,"claims":[],"circumstances":[],"guessed":false,"aside":[]}',1750000000000);
CREATE INDEX inbox_waiting ON inbox (urgent DESC) WHERE state = 'waiting';
CREATE INDEX inbox_aside ON inbox (state) WHERE state = 'aside';
CREATE INDEX tags_by_case ON tags (case_id, author_key);
CREATE INDEX tags_by_author ON tags (author_key, channel) WHERE recipe IS NOT NULL;
CREATE INDEX outbox_pending ON outbox (urgent DESC) WHERE state = 'pending';
CREATE INDEX rulings_standing ON rulings (case_id, id) WHERE undone_at IS NULL;
CREATE INDEX audit_by_case ON audit (case_id, id);
CREATE INDEX replies_by_subject ON replies (subject_id) WHERE subject_id IS NOT NULL;
CREATE INDEX outbox_by_platform ON outbox (platform_message_id) WHERE platform_message_id IS NOT NULL;
CREATE INDEX inbox_by_author ON inbox (author_key);
CREATE INDEX segments_by_case ON segments (case_id) WHERE case_id IS NOT NULL;
CREATE INDEX cases_by_bringer ON cases (brought_by) WHERE brought_by IS NOT NULL;
CREATE INDEX cases_over ON cases (last_seen) WHERE brought_by IS NOT NULL AND state IN ('seen', 'dropped');
CREATE INDEX inbox_words ON inbox (received_at) WHERE text <> '' AND state <> 'waiting';
CREATE INDEX tags_by_time ON tags (tagged_at, recipe_index, kind, case_id, message_id);
CREATE INDEX cases_sketches ON cases (id, sketch) WHERE sketch IS NOT NULL;
CREATE INDEX case_hazards_by_case ON case_hazards (case_id);
CREATE INDEX cases_by_score ON cases (state, score DESC, id, verdict);
CREATE INDEX cases_by_people ON cases (state, people DESC, score DESC, id, verdict);
CREATE INDEX cases_by_age ON cases (state, last_seen DESC, id, verdict);
CREATE INDEX cases_by_novelty ON cases (state, json_extract(interest, '$.marks.novelty') DESC, score DESC, id, verdict);
CREATE INDEX cases_by_severity ON cases (state, json_extract(interest, '$.marks.severity') DESC, score DESC, id, verdict);
CREATE INDEX cases_by_uncertainty ON cases (state, json_extract(interest, '$.marks.uncertainty') DESC, score DESC, id, verdict);
COMMIT;
PRAGMA user_version = 5;
