# The plain-text sheet for the printer at the tank. The layout is a regression figure; the numbers are tested in package bath.
$ blackbath scale --recipe r.json --tank t.json --load-cm3 581 --water-temp-c 25 --bucket-l 10 --step-g 5
status 0
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
-- stdout --
BATH SHEET
Everyday black
================================================================================
Tank     round pot, fill line 22.0 cm, rim 32.0 cm
Heat     92 °C (85 to 97)
Soak     8 min (4 to 15)

WEIGH AND POUR, IN THIS ORDER
--------------------------------------------------------------------------------
 1  Water                                                       16.585 kg   [  ]
      16.63 L at 25 °C: 1 × 10 L and 6.63 L
 2  ammonium chloride, NH4Cl                                     1.600 kg   [  ]
      CAS 12125-02-9, assay 98 %
 3  Damp earth north bank                                        7.805 kg   [  ]
      12 % of dry; brings 836 g of water, taken off above

LEVELS ON THE STICK, CM ABOVE THE BOTTOM
--------------------------------------------------------------------------------
cold, 25 °C, no pieces                                            20.8
hot, 92 °C, no pieces                                             21.4
hot, with the load: the fill line                                 22.0
rim                                                               32.0
Fill cold to 20.8, not to 22.0: filled cold to 22.0 it runs 1.21 L over when
hot.

THE BATH
--------------------------------------------------------------------------------
Mud, hot                              21.81 L at 1.19 kg per L
Metal of the load                     0.581 L
Boils here at                         101.4 ± 1 °C
Open surface                          1018 cm²
Water lost in an hour                 1.46 ± 0.44 L
Time to heat                          about 33 min, tank and pieces not counted
Rounding to 5 g moves no part by more than 0.0056 %.

ORDER OF WORK
--------------------------------------------------------------------------------
 1  Set up the tank cold and empty. Everyone knows where the rinse water is.
 2  Pour the water. Stir the salts in one at a time until each is gone.
 3  Break up, sieve and wet the earth. Stir it in last, a little at a time.
 4  Read the cold level on the stick before heating. It should be the cold level
    above.
 5  Heat slowly and stir from the bottom. Read the level again when hot, before
    the pieces go in.
 6  Write down what was really weighed.

CAUTIONS
--------------------------------------------------------------------------------
Local law and codes, the supplier's safety data sheet and licensed practice come
first.
DANGER  R-29  A splash burns in seconds and mud sticks. Apron over boots, face
              shield, long gloves. Children out.
DANGER  R-53  Not into a drain, ditch, well, field or river. Zinc, copper and
              ammonia kill fish. Follow the local rules.
WARNING R-05  The bath's pH is not known. Test it before heating further.
WARNING R-27  Cold water makes a boiling mud bath spit. Heat off, wait, then
              pour warm water in at the edge.

Not known yet. Not known is not safe: ask, and write the answer in.
[      ] north bank's pH                [      ] north bank's fizz
[      ] which chloride was used last   [      ] whether children are near
[      ] the bath's pH                  [      ] dry, damp or liquid
[      ] whether it is labelled         [      ] whether it is a kitchen vessel
[      ] whether the room is closed     [      ] how many people are there
[      ] the lid                        [      ] what heats the bath
[      ] whether the heater is covered  [      ] how long the bath has stood
[      ] whether a piece is hollow      [      ] whether it has open holes
[      ] north bank's smell             [      ] whether it is inlaid
[      ] how heavy the piece is

BY HAND
--------------------------------------------------------------------------------
Made up by ____________________________  on ______________  at ________
Really weighed, where it differs: ______________________________________________
________________________________________________________________________________
