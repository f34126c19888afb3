-- Whether an author lets their own words be shown in public, and how they want to be called; without a row the answer
-- is no. Goes with the post, with the person, or when it is taken back.
CREATE TABLE consents (
  message_id TEXT PRIMARY KEY REFERENCES inbox (message_id) ON DELETE CASCADE,
  credit     TEXT NOT NULL,
  given_at   INTEGER NOT NULL
) STRICT;

-- What of a post was not read (a picture, a file): the key of the sentence that says so under the answer.
ALTER TABLE replies ADD COLUMN unread TEXT;
