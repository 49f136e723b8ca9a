-- Records of one learner or many. Ids are random text, times are UTC text of
-- fixed width (2006-01-02T15:04:05.000Z), so that text order is time order.
-- seq is the order of writing. Closed lists of words (outcomes, kinds of
-- opening) are kept by the program, not here: a new word needs no migration.

-- +goose Up
PRAGMA application_id = 1182100590;

CREATE TABLE learner (
    seq  INTEGER PRIMARY KEY,
    id   TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL,
    made TEXT NOT NULL
) STRICT;

-- The learner of local mode; at most one row.
CREATE TABLE local_learner (
    one     INTEGER PRIMARY KEY CHECK (one = 1),
    learner TEXT NOT NULL UNIQUE REFERENCES learner (id) ON DELETE CASCADE
) STRICT;

CREATE TABLE template_source (
    hash     TEXT NOT NULL PRIMARY KEY,
    template TEXT NOT NULL,
    source   TEXT NOT NULL,
    made     TEXT NOT NULL
) STRICT;

CREATE TABLE handed (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    learner  TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    key      TEXT NOT NULL,
    template TEXT NOT NULL,
    source   TEXT NOT NULL REFERENCES template_source (hash),
    program  TEXT NOT NULL,
    seed     INTEGER NOT NULL CHECK (seed BETWEEN 0 AND 9007199254740991),
    kept     TEXT NOT NULL,
    why      TEXT NOT NULL,
    made     TEXT NOT NULL,
    UNIQUE (learner, key)
) STRICT;
CREATE INDEX handed_by_template ON handed (learner, template, seq);
CREATE INDEX handed_by_source ON handed (source);

-- learner repeats handed.learner, so that a history is read in order from one index.
CREATE TABLE attempt (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    handed   TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    learner  TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    question TEXT NOT NULL,
    key      TEXT NOT NULL UNIQUE,
    number   INTEGER NOT NULL,
    try      INTEGER NOT NULL,
    helped   INTEGER NOT NULL,
    text     TEXT NOT NULL,
    working  TEXT NOT NULL,
    outcome  TEXT NOT NULL,
    slip     TEXT NOT NULL,
    marks    REAL NOT NULL,
    result   TEXT NOT NULL,
    made     TEXT NOT NULL,
    UNIQUE (handed, question, number)
) STRICT;
CREATE INDEX attempt_by_learner ON attempt (learner, seq);

CREATE TABLE opened (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    handed   TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    question TEXT NOT NULL,
    what     TEXT NOT NULL,
    number   INTEGER NOT NULL,
    made     TEXT NOT NULL,
    UNIQUE (handed, question, what, number)
) STRICT;

CREATE TABLE pause_met (
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    pause   TEXT NOT NULL,
    handed  TEXT NOT NULL REFERENCES handed (id) ON DELETE CASCADE,
    made    TEXT NOT NULL,
    PRIMARY KEY (learner, pause, handed)
) STRICT;
CREATE INDEX pause_met_by_handed ON pause_met (handed);

CREATE TABLE setting (
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    name    TEXT NOT NULL,
    value   TEXT NOT NULL,
    PRIMARY KEY (learner, name)
) STRICT;

-- What was handed out and what was answered are facts: they may go with their
-- learner, but they never change.
-- +goose StatementBegin
CREATE TRIGGER attempt_never_changes BEFORE UPDATE ON attempt
BEGIN SELECT RAISE(ABORT, 'an attempt never changes'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER handed_never_changes BEFORE UPDATE ON handed
BEGIN SELECT RAISE(ABORT, 'a problem handed out never changes'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER template_source_never_changes BEFORE UPDATE ON template_source
BEGIN SELECT RAISE(ABORT, 'a template source handed out never changes'); END;
-- +goose StatementEnd
