# Anhydrous aluminium chloride bursts into heat and acid fume in water: refused, and the right one is named.
$ blackbath scale --recipe r.json --tank t.json
status 2
-- r.json --
{"name": "x", "parts": [{"kind": "water", "mass_g": 1000}, {"kind": "salt", "salt": "aluminium-chloride", "mass_g": 50}], "temp_c": {"target": 90}}
-- t.json --
{"name": "round pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 10, "heater_kw": 3, "wall": "enamelled-steel"}
-- stderr-has --
r.json: parts[1].salt: aluminium-chloride is not allowed
aluminium-chloride-hexahydrate
