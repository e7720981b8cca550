-- +goose Up
-- A recipe has the name of its newest version.
CREATE TABLE recipes (
	id          INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id INTEGER NOT NULL REFERENCES workshops (id),
	retired     BOOLEAN NOT NULL DEFAULT FALSE,
	entered_at  DATETIME NOT NULL,
	UNIQUE (workshop_id, id)
);

CREATE TABLE recipe_versions (
	id          INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id INTEGER NOT NULL REFERENCES workshops (id),
	entry_key   TEXT NOT NULL CHECK (entry_key <> ''),
	recipe_id   INTEGER NOT NULL,
	number      INTEGER NOT NULL CHECK (number >= 1),
	name        TEXT NOT NULL,
	recipe_json TEXT NOT NULL,
	change      TEXT NOT NULL,
	why         TEXT NOT NULL,
	proof_json  TEXT,
	made_at     DATETIME NOT NULL,
	made_by     TEXT NOT NULL,
	search_text TEXT NOT NULL,
	entered_at  DATETIME NOT NULL,
	edit        INTEGER NOT NULL DEFAULT 1,
	UNIQUE (workshop_id, id),
	UNIQUE (workshop_id, entry_key),
	UNIQUE (recipe_id, number),
	FOREIGN KEY (workshop_id, recipe_id) REFERENCES recipes (workshop_id, id),
	CHECK (number = 1 OR (change <> '' AND why <> ''))
);

-- +goose Down
DROP TABLE recipe_versions;
DROP TABLE recipes;
