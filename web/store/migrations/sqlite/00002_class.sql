-- Class mode: accounts, classes, problem sets and what belongs to them. An empty
-- text stands for "not yet" in times. Where an empty text would break a UNIQUE,
-- the column is NULL instead. Secrets are base64; hashes are made by the caller.

-- +goose Up
CREATE TABLE instance (
    one    INTEGER PRIMARY KEY CHECK (one = 1),
    secret TEXT NOT NULL,
    made   TEXT NOT NULL
) STRICT;

-- A person who signs in. The name is the learner's.
CREATE TABLE account (
    seq        INTEGER PRIMARY KEY,
    id         TEXT NOT NULL UNIQUE,
    learner    TEXT NOT NULL UNIQUE REFERENCES learner (id) ON DELETE CASCADE,
    login      TEXT UNIQUE,
    passphrase TEXT NOT NULL,
    code       TEXT UNIQUE,
    instructor INTEGER NOT NULL CHECK (instructor IN (0, 1)),
    active     INTEGER NOT NULL CHECK (active IN (0, 1)),
    made       TEXT NOT NULL
) STRICT;
CREATE INDEX account_instructors ON account (instructor, active);

CREATE TABLE class (
    seq     INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    title   TEXT NOT NULL,
    secret  TEXT NOT NULL,
    round   INTEGER NOT NULL,
    joining TEXT UNIQUE,
    made    TEXT NOT NULL,
    ended   TEXT NOT NULL
) STRICT;

-- external is the id that a roster gives to a person.
CREATE TABLE member (
    class    TEXT NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    account  TEXT NOT NULL REFERENCES account (id) ON DELETE CASCADE,
    role     TEXT NOT NULL,
    external TEXT,
    team     TEXT NOT NULL,
    active   INTEGER NOT NULL CHECK (active IN (0, 1)),
    made     TEXT NOT NULL,
    PRIMARY KEY (class, account),
    UNIQUE (class, external)
) STRICT;
CREATE INDEX member_by_account ON member (account);

CREATE TABLE session (
    hash    TEXT NOT NULL PRIMARY KEY,
    account TEXT NOT NULL REFERENCES account (id) ON DELETE CASCADE,
    made    TEXT NOT NULL,
    seen    TEXT NOT NULL,
    expires TEXT NOT NULL
) STRICT;
CREATE INDEX session_by_account ON session (account);
CREATE INDEX session_by_expiry ON session (expires);

-- A link that opens once. Without a class it makes an instructor.
CREATE TABLE invitation (
    hash    TEXT NOT NULL PRIMARY KEY,
    class   TEXT REFERENCES class (id) ON DELETE CASCADE,
    role    TEXT NOT NULL,
    setup   INTEGER NOT NULL CHECK (setup IN (0, 1)),
    made    TEXT NOT NULL,
    expires TEXT NOT NULL
) STRICT;
CREATE INDEX invitation_by_class ON invitation (class);
CREATE INDEX invitation_by_expiry ON invitation (expires);
CREATE INDEX invitation_setup ON invitation (setup);

-- Failed tries to get in, counted in windows of time. Names are keyed hashes.
CREATE TABLE knock (
    name  TEXT NOT NULL PRIMARY KEY,
    count INTEGER NOT NULL,
    until TEXT NOT NULL
) STRICT;
CREATE INDEX knock_by_end ON knock (until);

CREATE TABLE problem_set (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    class    TEXT NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    rules    TEXT NOT NULL,
    revision INTEGER NOT NULL,
    made     TEXT NOT NULL,
    released TEXT NOT NULL
) STRICT;
CREATE INDEX problem_set_by_class ON problem_set (class, seq);

CREATE TABLE allowance (
    set_id  TEXT NOT NULL REFERENCES problem_set (id) ON DELETE CASCADE,
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    rules   TEXT NOT NULL,
    made    TEXT NOT NULL,
    PRIMARY KEY (set_id, learner)
) STRICT;
CREATE INDEX allowance_by_learner ON allowance (learner);

-- Which problem handed out is which draw of which set.
CREATE TABLE set_draw (
    set_id   TEXT NOT NULL REFERENCES problem_set (id) ON DELETE CASCADE,
    learner  TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    template TEXT NOT NULL,
    n        INTEGER NOT NULL,
    handed   TEXT NOT NULL UNIQUE REFERENCES handed (id) ON DELETE CASCADE,
    PRIMARY KEY (set_id, learner, template, n)
) STRICT;
CREATE INDEX set_draw_by_learner ON set_draw (learner);

CREATE TABLE mark_override (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    key      TEXT NOT NULL UNIQUE,
    handed   TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    question TEXT NOT NULL,
    attempt  TEXT NOT NULL,
    marks    REAL NOT NULL,
    reason   TEXT NOT NULL,
    author   TEXT NOT NULL,
    made     TEXT NOT NULL
) STRICT;
CREATE INDEX mark_override_by_handed ON mark_override (handed, seq);

CREATE TABLE second_look (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    key      TEXT NOT NULL UNIQUE,
    class    TEXT NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    set_id   TEXT NOT NULL REFERENCES problem_set (id) ON DELETE CASCADE,
    handed   TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    question TEXT NOT NULL,
    text     TEXT NOT NULL,
    state    TEXT NOT NULL,
    reply    TEXT NOT NULL,
    author   TEXT NOT NULL,
    made     TEXT NOT NULL,
    answered TEXT NOT NULL
) STRICT;
CREATE INDEX second_look_by_handed ON second_look (handed, seq);
CREATE INDEX second_look_by_state ON second_look (class, state, seq);
CREATE INDEX second_look_by_set ON second_look (set_id);

-- What is being typed; the latest wins.
CREATE TABLE draft (
    handed   TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    question TEXT NOT NULL,
    text     TEXT NOT NULL,
    working  TEXT NOT NULL,
    made     TEXT NOT NULL,
    PRIMARY KEY (handed, question)
) STRICT;

-- An override stays; only its words may go when a class ends.
-- +goose StatementBegin
CREATE TRIGGER mark_override_never_changes BEFORE UPDATE OF seq, id, key, handed, question, attempt, marks, author, made ON mark_override
BEGIN SELECT RAISE(ABORT, 'an override never changes'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER set_draw_never_changes BEFORE UPDATE ON set_draw
BEGIN SELECT RAISE(ABORT, 'a draw of a set never changes'); END;
-- +goose StatementEnd
