# Every wrong option is named at once, with its value and what is allowed; stdout stays empty.
$ blackbath scale --recipe r.json --tank t.json --load-cm3 1,234 --step-g NaN --water-temp-c 101 --bucket-l 0 --altitude-m 3,5kg
status 2
-- r.json --
{"name": "Everyday black",
 "parts": [
  {"kind": "water", "mass_g": 10000},
  {"kind": "earth", "name": "north bank", "mass_g": 4000, "moisture_pct": 12.0, "particle_density_g_cm3": 2.65},
  {"kind": "salt", "salt": "ammonium-chloride", "mass_g": 900, "assay_pct": 98.0}],
 "temp_c": {"min": 85, "target": 92, "max": 97},
 "soak_min": {"min": 4, "target": 8, "max": 15}}
-- t.json --
{"name": "round pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 10, "heater_kw": 3, "wall": "enamelled-steel"}
-- stderr-has --
--load-cm3: 1,234 is not allowed; allowed: 1.234 or 1234
--step-g: NaN is not allowed; allowed: a finite number
--water-temp-c: 101 is not allowed; allowed: 0 to 100 °C
--bucket-l: 0 is not allowed; allowed: more than 0
--altitude-m: 3,5kg is not allowed; allowed: a quantity in m
