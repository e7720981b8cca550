-- +goose Up
-- A sheet keeps its inputs and figures as they were printed; recipe and tank are copies.
CREATE TABLE bath_sheets (
	id              INTEGER PRIMARY KEY AUTOINCREMENT,
	workshop_id     INTEGER NOT NULL REFERENCES workshops (id),
	entry_key       TEXT NOT NULL CHECK (entry_key <> ''),
	number          INTEGER NOT NULL CHECK (number >= 1),
	version_id      INTEGER NOT NULL,
	tank_id         INTEGER NOT NULL,
	recipe_name     TEXT NOT NULL,
	recipe_json     TEXT NOT NULL,
	tank_name       TEXT NOT NULL,
	tank_json       TEXT NOT NULL,
	conditions_json TEXT NOT NULL,
	load_area_dm2   REAL NOT NULL,
	answer_json     TEXT NOT NULL,
	chloride        TEXT NOT NULL, -- which of the two chlorides that get mixed up went in; '' for neither
	program         TEXT NOT NULL,
	made_at         DATETIME NOT NULL,
	made_by         TEXT NOT NULL,
	search_text     TEXT NOT NULL,
	entered_at      DATETIME NOT NULL,
	UNIQUE (workshop_id, id),
	UNIQUE (workshop_id, entry_key),
	UNIQUE (workshop_id, number),
	FOREIGN KEY (workshop_id, version_id) REFERENCES recipe_versions (workshop_id, id),
	FOREIGN KEY (workshop_id, tank_id) REFERENCES tanks (workshop_id, id)
);
CREATE INDEX bath_sheets_of_version ON bath_sheets (version_id);
CREATE INDEX bath_sheets_of_tank ON bath_sheets (workshop_id, tank_id);
CREATE INDEX bath_sheets_chloride ON bath_sheets (workshop_id, number) WHERE chloride <> '';

CREATE TABLE bath_sheet_lots (
	workshop_id INTEGER NOT NULL,
	sheet_id    INTEGER NOT NULL,
	part        INTEGER NOT NULL CHECK (part >= 0), -- place of the part in the recipe, from 0
	lot_id      INTEGER NOT NULL,
	PRIMARY KEY (sheet_id, part),
	FOREIGN KEY (workshop_id, sheet_id) REFERENCES bath_sheets (workshop_id, id),
	FOREIGN KEY (workshop_id, lot_id) REFERENCES lots (workshop_id, id)
);
CREATE INDEX bath_sheet_lots_of_lot ON bath_sheet_lots (lot_id);

-- A version that a bath used never changes. Only its proof may still come, once: a recipe proves itself by being used.
-- +goose StatementBegin
CREATE TRIGGER recipe_versions_used BEFORE UPDATE ON recipe_versions
WHEN EXISTS (SELECT 1 FROM bath_sheets WHERE version_id = OLD.id)
	AND (NEW.id <> OLD.id OR NEW.workshop_id <> OLD.workshop_id OR NEW.entry_key <> OLD.entry_key
		OR NEW.recipe_id <> OLD.recipe_id OR NEW.number <> OLD.number OR NEW.name <> OLD.name
		OR NEW.recipe_json <> OLD.recipe_json OR NEW.change <> OLD.change OR NEW.why <> OLD.why
		OR NEW.made_at <> OLD.made_at OR NEW.made_by <> OLD.made_by OR NEW.entered_at <> OLD.entered_at
		OR (OLD.proof_json IS NOT NULL AND NEW.proof_json IS NOT OLD.proof_json))
BEGIN
	SELECT RAISE(ABORT, 'a bath sheet was made from this recipe version: it cannot change');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bath_sheets_fixed BEFORE UPDATE ON bath_sheets
BEGIN
	SELECT RAISE(ABORT, 'a bath sheet cannot change');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bath_sheet_lots_fixed BEFORE UPDATE ON bath_sheet_lots
BEGIN
	SELECT RAISE(ABORT, 'a bath sheet cannot change');
END;
-- +goose StatementEnd

-- +goose Down
DROP TRIGGER recipe_versions_used;
DROP TABLE bath_sheet_lots;
DROP TABLE bath_sheets;
