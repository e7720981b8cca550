# One of the two files may come from stdin; numbers in options are read as people type them.
$ blackbath scale --recipe r.json --tank - --load-cm3 0,581L --altitude-m -100 --json
status 0
-- r.json --
{"name": "Everyday black",
 "parts": [
  {"kind": "water", "mass_g": 10000},
  {"kind": "earth", "name": "north bank", "mass_g": 4000, "moisture_pct": 12.0, "particle_density_g_cm3": 2.65},
  {"kind": "salt", "salt": "ammonium-chloride", "mass_g": 900, "assay_pct": 98.0}],
 "temp_c": {"min": 85, "target": 92, "max": 97},
 "soak_min": {"min": 4, "target": 8, "max": 15}}
-- stdin --
{"name": "round pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 10}
-- stdout-has --
"load_l": 0.581,
"recipe": "Everyday black",
"tank": "round pot",
"loaded": 22,
"rim": 32
