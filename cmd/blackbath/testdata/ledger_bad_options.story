# A moment without its offset, and what is wrong in the file: all of it is told at once.
$ blackbath ledger b.json --until 2026-01-05T07:00:00
status 2
-- b.json --
{"bath": "B12",
 "tank": {"name": "pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 6, "heater_kw": 3},
 "recipe": {"name": "Everyday black",
   "salts": [{"salt": "ammonium-chloride", "g_per_kg_water": {"min": 130, "target": 150, "max": 170}}],
   "earth_dry_g_per_kg_water": {"min": 500, "target": 600, "max": 700},
   "temp_c": {"min": 85, "target": 92, "max": 97}, "level_min_cm": 20},
 "learned": {"evaporation_ratios": [0.8, 0.9], "dragout_l_m2": 0.25, "zinc_g_m2": 4},
 "lots": [{"kind": "earth", "moisture_pct": 12}, {"kind": "salt", "salt": "ammonium-chloride", "assay_pct": 98.5}],
 "bucket_l": 4,
 "facts": [
  {"id": "f1", "at": "2026-01-05T08:00:00Z", "kind": "make_up", "temp_c": 25, "parts": [
    {"kind": "water", "mass_g": 17212}, {"kind": "earth", "mass_g": 12540, "moisture_pct": 12, "carbonate_pct": 2},
    {"kind": "salt", "salt": "ammonium-chloride", "mass_g": 2842, "assay_pct": 98.5}]},
  {"id": "f2", "at": "2026-01-05T09:00:00Z", "kind": "fire"},
  {"id": "s1", "at": "2026-01-05T12:00:00Z", "kind": "soak", "out_at": "2026-01-05T12:10:00Z", "area_dm2": 42, "metal_g": 4200, "pieces": 5, "temp_in_c": 92},
  {"id": "f3", "at": "2026-01-05T13:00:00Z", "kind": "reading", "temp_c": 92, "level_cm": 225}]}
-- stderr-has --
--until: 2026-01-05T07:00:00 is not allowed; allowed: a date and time with its offset from UTC
b.json: facts[1].kind: fire is not allowed
b.json: facts[3].level_cm: 225 is not allowed; allowed: more than 0 and not above the rim, 32 cm
