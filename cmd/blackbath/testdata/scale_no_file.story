# A file that is not there is bad input, not a failure of the program.
$ blackbath scale --recipe nowhere.json --tank t.json
status 2
-- t.json --
{"name": "round pot", "shape": "cylinder", "diameter_cm": 36, "height_cm": 32, "freeboard_cm": 10, "heater_kw": 3, "wall": "enamelled-steel"}
-- stderr-has --
--recipe: open nowhere.json
