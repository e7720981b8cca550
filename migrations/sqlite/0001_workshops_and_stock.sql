-- +goose Up
CREATE TABLE workshops (
	id             INTEGER PRIMARY KEY AUTOINCREMENT,
	entry_key      TEXT NOT NULL UNIQUE CHECK (entry_key <> ''),
	name           TEXT NOT NULL,
	invented       BOOLEAN NOT NULL DEFAULT FALSE,
	water_boils_c  REAL,
	altitude_m     REAL,
	currency       TEXT NOT NULL,
	time_zone      TEXT NOT NULL,
	language       TEXT NOT NULL,
	balance_step_g REAL NOT NULL CHECK (balance_step_g > 0),
	bucket_l       REAL CHECK (bucket_l > 0),
	entered_at     DATETIME NOT NULL,
	edit           INTEGER NOT NULL DEFAULT 1
);

CREATE TABLE materials (
	id           INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id  INTEGER NOT NULL REFERENCES workshops (id),
	kind         TEXT NOT NULL CHECK (kind IN ('water', 'earth', 'salt')),
	name         TEXT NOT NULL,
	salt         TEXT NOT NULL,
	search_text  TEXT NOT NULL,
	entered_at   DATETIME NOT NULL,
	edit         INTEGER NOT NULL DEFAULT 1,
	UNIQUE (workshop_id, id),
	UNIQUE (workshop_id, kind, name),
	CHECK ((kind = 'salt') = (salt <> ''))
);
CREATE UNIQUE INDEX materials_one_per_salt ON materials (workshop_id, salt) WHERE salt <> '';

CREATE TABLE lots (
	id                         INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id                INTEGER NOT NULL REFERENCES workshops (id),
	entry_key                  TEXT NOT NULL CHECK (entry_key <> ''),
	material_id                INTEGER NOT NULL,
	name                       TEXT NOT NULL,
	received_at                DATETIME,
	source                     TEXT NOT NULL,
	batch                      TEXT NOT NULL,
	amount_g                   REAL,
	price_minor                INTEGER,
	moisture_pct               REAL,
	particle_density_g_per_cm3 REAL,
	assay_pct                  REAL,
	assay_basis                TEXT NOT NULL CHECK (assay_basis IN ('', 'as-named', 'as-anhydrous')),
	note                       TEXT NOT NULL,
	used_up                    BOOLEAN NOT NULL DEFAULT FALSE,
	search_text                TEXT NOT NULL,
	entered_at                 DATETIME NOT NULL,
	edit                       INTEGER NOT NULL DEFAULT 1,
	UNIQUE (workshop_id, id),
	UNIQUE (workshop_id, entry_key),
	FOREIGN KEY (workshop_id, material_id) REFERENCES materials (workshop_id, id)
);
CREATE INDEX lots_of_material ON lots (workshop_id, material_id);

CREATE TABLE tanks (
	id           INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id  INTEGER NOT NULL REFERENCES workshops (id),
	entry_key    TEXT NOT NULL CHECK (entry_key <> ''),
	name         TEXT NOT NULL,
	tank_json    TEXT NOT NULL,
	retired      BOOLEAN NOT NULL DEFAULT FALSE,
	entered_at   DATETIME NOT NULL,
	edit         INTEGER NOT NULL DEFAULT 1,
	UNIQUE (workshop_id, id),
	UNIQUE (workshop_id, entry_key)
);

-- What a form was last filled in with, by form and by what it was about.
CREATE TABLE remembered_forms (
	workshop_id INTEGER NOT NULL REFERENCES workshops (id),
	form_key    TEXT NOT NULL,
	form_values TEXT NOT NULL,
	entered_at  DATETIME NOT NULL,
	PRIMARY KEY (workshop_id, form_key)
);

-- +goose Down
DROP TABLE remembered_forms;
DROP TABLE tanks;
DROP TABLE lots;
DROP TABLE materials;
DROP TABLE workshops;
