# A file that cannot be read is bad input.
$ blackbath ledger nowhere.json
status 2
-- stderr-has --
nowhere.json
