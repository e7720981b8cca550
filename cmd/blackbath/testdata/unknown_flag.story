# An option that does not exist is bad input.
$ blackbath scale --recipe r.json --tank t.json --stir
status 2
-- stderr-has --
unknown flag --stir
