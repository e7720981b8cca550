# What is wrong in both files is told at once.
$ blackbath scale --recipe r.json --tank t.json
status 2
-- r.json --
{"parts": [{"kind": "water", "mass_g": -5}], "temp_c": {"target": 90}}
-- t.json --
{"shape": "bowl", "rim_diameter_cm": 40, "depth_cm": 25, "freeboard_cm": 4}
-- stderr-has --
r.json: parts[0].mass_g: -5 is not allowed; allowed: more than 0
t.json: depth_cm: 25 is not allowed; allowed: at most half the rim's diameter, 20 cm
