# The account of a bath as a page, with advice. The layout is a regression figure; the numbers are tested in package ledger.
$ blackbath ledger b.json --advise
status 0
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
  {"id": "f2", "at": "2026-01-05T09:00:00Z", "kind": "heat_on"},
  {"id": "s1", "at": "2026-01-05T12:00:00Z", "kind": "soak", "out_at": "2026-01-05T12:10:00Z", "area_dm2": 42, "metal_g": 4200, "pieces": 5, "temp_in_c": 92},
  {"id": "f3", "at": "2026-01-05T13:00:00Z", "kind": "reading", "temp_c": 92, "level_cm": 21}]}
-- stdout --
BATH B12
================================================================================
As of                     2026-01-05 13:00:00 UTC
Age                       5.0 h, of it 2.5 h at 60 °C or more

THE BATH
--------------------------------------------------------------------------------
Temperature               92.0 °C, inside 85 to 97 °C
Boils here at             102.9 ± 1 °C
Mud, without pieces       21.50 L, 21.1 cm on the stick
Water                     14789 ± 215 g
Dry earth                 11127 ± 229 g
ammonium                  895.7 ± 25.0 g
chloride                  1845.9 ± 18.5 g
zinc                      1.7 ± 0.5 g
calcium                   48.5 ± 25.7 g

STRENGTH, G PER KG OF ALL WATER, ± ONE STANDARD DEVIATION
--------------------------------------------------------------------------------
ammonium-chloride         179.6 ± 6.1, ABOVE the window, 130 to 170 g/kg
earth, dry                752 ± 23, ABOVE the window, 500 to 700 g/kg

USE
--------------------------------------------------------------------------------
Evaporated                2158 g; the tank takes 0.90 times the formula, ± 16 %
Soaks                     1 ended, 42.0 dm², 1.74 dm² per litre
Zinc taken up             1.7 ± 0.5 g

WHAT TO ADD
--------------------------------------------------------------------------------
Add:
Because                   ammonium-chloride above, earth above
water                     3.757 kg, 3.76 L at 20 °C
Heat off and wait first: cold water makes a hot mud bath spit. Pour it warm, in
at the edge.
Afterwards                25.39 L, 24.9 cm, ammonium-chloride 143.2 g/kg, earth
                          600 g/kg

BALANCE, G
--------------------------------------------------------------------------------
water                     in 18555.6, evaporated -2157.6, dragged out -75.5,
                          adjusted -1533.9; now 14788.6
dry earth                 in 11196.4, dragged out -48.1, reacted -112.0,
                          adjusted 91.0; now 11127.3
ammonium                  in 944.1, dragged out -3.9, reacted -40.4, adjusted
                          -4.1; now 895.7
chloride                  in 1855.3, dragged out -8.1, adjusted -1.3; now 1845.9
zinc                      in 0.0, dragged out -0.0073, taken up 1.7; now 1.7
calcium                   in 0.0, dragged out -0.19, reacted 44.8, adjusted 3.9;
                          now 48.5
