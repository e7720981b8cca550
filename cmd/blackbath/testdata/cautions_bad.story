# What cannot be judged names field, value and what is allowed; stdout stays empty.
$ blackbath cautions f.json
status 2
-- f.json --
{"step": "heat", "bath": {"temp_c": 900, "substances": ["salt"]}, "colour": 1}
-- stderr-has --
bath.temp_c: 900 is not allowed
bath.substances[0]
colour
