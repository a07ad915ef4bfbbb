-- +goose Up

-- Times are whole microseconds since 1970, UTC. Texts are kept as written.

CREATE TABLE documents (
    id       TEXT    NOT NULL PRIMARY KEY,
    kind     TEXT    NOT NULL CHECK (kind IN ('piece', 'shop', 'record')),
    head     INTEGER NOT NULL, -- number of the revision that stands
    version  INTEGER NOT NULL, -- grows with every change, undo and redo
    shop     TEXT    NOT NULL DEFAULT '',
    record   TEXT    NOT NULL DEFAULT '',
    archived INTEGER NOT NULL DEFAULT 0,
    created  INTEGER NOT NULL,
    changed  INTEGER NOT NULL
) STRICT;

-- No row of this table is ever taken away, and nothing but forward changes.
CREATE TABLE revisions (
    doc     TEXT    NOT NULL REFERENCES documents (id),
    number  INTEGER NOT NULL,
    parent  INTEGER NOT NULL, -- 0 for the first
    forward INTEGER NOT NULL DEFAULT 0, -- where redo goes from here; 0 is nowhere
    name    TEXT    NOT NULL,
    text    BLOB    NOT NULL,
    says    TEXT    NOT NULL,
    device  TEXT    NOT NULL,
    edit    TEXT    NOT NULL,
    at      INTEGER NOT NULL,
    PRIMARY KEY (doc, number)
) STRICT;

CREATE UNIQUE INDEX revisions_edit ON revisions (doc, edit) WHERE edit <> '';

CREATE TABLE ticks (
    id     TEXT    NOT NULL PRIMARY KEY,
    piece  TEXT    NOT NULL,
    place  TEXT    NOT NULL,
    done   INTEGER NOT NULL,
    count  INTEGER NOT NULL,
    device TEXT    NOT NULL,
    at     INTEGER NOT NULL -- by the clock of the device
) STRICT;

CREATE INDEX ticks_place ON ticks (piece, place, at, id);

CREATE TABLE devices (
    id      TEXT    NOT NULL PRIMARY KEY,
    name    TEXT    NOT NULL,
    token   BLOB    NOT NULL, -- SHA-256 of the secret the device holds
    paired  INTEGER NOT NULL,
    seen    INTEGER NOT NULL,
    revoked INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE TABLE settings (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;
