-- Episodes, what they cover, and who wants to be told.
CREATE TABLE episodes (
  id           INTEGER PRIMARY KEY,
  title        TEXT NOT NULL,
  note         TEXT NOT NULL DEFAULT '',
  address      TEXT,
  made_at      INTEGER NOT NULL,
  published_at INTEGER
) STRICT;

-- A segment outlives its case: the brief then says that the recipe is gone.
CREATE TABLE segments (
  id         INTEGER PRIMARY KEY,
  episode_id INTEGER NOT NULL REFERENCES episodes (id) ON DELETE CASCADE,
  case_id    INTEGER REFERENCES cases (id) ON DELETE SET NULL,
  place      INTEGER NOT NULL,
  seconds    INTEGER NOT NULL CHECK (seconds > 0),
  note       TEXT NOT NULL DEFAULT '',
  UNIQUE (episode_id, case_id)
) STRICT;
CREATE INDEX segments_by_case ON segments (case_id) WHERE case_id IS NOT NULL;

-- One row for a message whose author wants to hear of the episode; `told_at` makes the telling once.
CREATE TABLE followers (
  message_id TEXT PRIMARY KEY REFERENCES inbox (message_id) ON DELETE CASCADE,
  asked_at   INTEGER NOT NULL,
  told_at    INTEGER
) STRICT;

-- News stands beside the first answer and does not replace it.
ALTER TABLE outbox ADD COLUMN news INTEGER NOT NULL DEFAULT 0 CHECK (news IN (0, 1));
