-- A file of pieces as version 1 wrote it: a change, an undone change, a refused one, a named version.
PRAGMA user_version = 1;
PRAGMA application_id = 1651730277;
BEGIN;
CREATE TABLE piece (
            piece_id TEXT PRIMARY KEY,
            made_at TEXT NOT NULL,
            discarded_at TEXT,
            head_n INTEGER NOT NULL,
            FOREIGN KEY (piece_id, head_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED
        ) STRICT;
CREATE TABLE revision (
            piece_id TEXT NOT NULL REFERENCES piece (piece_id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
            revision_n INTEGER NOT NULL CHECK (revision_n > 0),
            parent_n INTEGER,
            next_n INTEGER,
            aside INTEGER NOT NULL DEFAULT 0 CHECK (aside IN (0, 1)),
            saved_at TEXT NOT NULL,
            words TEXT NOT NULL,
            name TEXT NOT NULL,
            seed INTEGER NOT NULL,
            stamp TEXT NOT NULL,
            verdict TEXT NOT NULL CHECK (verdict IN ('fine', 'caution', 'stop', 'no plan')),
            toml TEXT NOT NULL,
            PRIMARY KEY (piece_id, revision_n),
            FOREIGN KEY (piece_id, parent_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED,
            FOREIGN KEY (piece_id, next_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED
        ) STRICT;
CREATE TABLE version (
            piece_id TEXT NOT NULL REFERENCES piece (piece_id) ON DELETE CASCADE,
            name TEXT NOT NULL,
            revision_n INTEGER NOT NULL,
            made_at TEXT NOT NULL,
            PRIMARY KEY (piece_id, name),
            FOREIGN KEY (piece_id, revision_n) REFERENCES revision (piece_id, revision_n)
                ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED
        ) STRICT;
INSERT INTO piece VALUES ('0123456789ab', '2026-11-25T19:00:00Z', NULL, 1);
INSERT INTO revision VALUES ('0123456789ab', 1, NULL, 2, 0, '2026-11-25T19:00:00Z', 'begin', 'Gate', 1, 'aaaa-0001', 'fine', 'one = 1  # the first');
INSERT INTO revision VALUES ('0123456789ab', 2, 1, NULL, 0, '2026-11-25T19:01:00Z', 'draw again', 'Gate', 2, 'aaaa-0002', 'stop', 'one = 2');
INSERT INTO revision VALUES ('0123456789ab', 3, 1, NULL, 1, '2026-11-25T19:02:00Z', 'from another tab', 'Gate', 3, 'aaaa-0003', 'no plan', 'one = 3');
INSERT INTO version VALUES ('0123456789ab', 'for Ada', 1, '2026-11-25T19:03:00Z');
COMMIT;
