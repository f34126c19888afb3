-- What the chat platform adds: where answers stand, who wants quiet, cards on the desk, notes to the community.
-- A reply has a row where the outbox row alone does not say enough: asked by a command, revised, or removed.
CREATE TABLE replies (
  message_id TEXT PRIMARY KEY,
  channel    TEXT NOT NULL,
  reply_id   TEXT,
  removed    INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)),
  subject_id TEXT,
  token      TEXT,
  place      TEXT
) STRICT;
CREATE INDEX replies_by_subject ON replies (subject_id) WHERE subject_id IS NOT NULL;
CREATE INDEX outbox_by_platform ON outbox (platform_message_id) WHERE platform_message_id IS NOT NULL;
CREATE INDEX inbox_by_author ON inbox (author_key);

CREATE TABLE quiet (
  author_key TEXT PRIMARY KEY,
  since      INTEGER NOT NULL
) STRICT;

CREATE TABLE cards (
  case_id    INTEGER PRIMARY KEY REFERENCES cases (id) ON DELETE CASCADE,
  channel    TEXT NOT NULL,
  message_id TEXT NOT NULL,
  shown      TEXT NOT NULL
) STRICT;

CREATE TABLE notes (
  case_id    INTEGER PRIMARY KEY REFERENCES cases (id) ON DELETE CASCADE,
  written_at INTEGER NOT NULL,
  message_id TEXT
) STRICT;

CREATE TABLE marks (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;
