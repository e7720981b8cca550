# "Salt" does not say which.
$ blackbath scale --recipe r.json --tank t.json --json
status 2
-- r.json --
{"name": "x", "parts": [{"kind": "water", "mass_g": 1000}, {"kind": "salt", "salt": "salt", "mass_g": 50}], "temp_c": {"target": 90}}
-- t.json --
{"name": "round pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 10, "heater_kw": 3, "wall": "enamelled-steel"}
-- stderr-has --
parts[1].salt: salt is not allowed
ammonium-chloride, ammonium-sulfate
