# Both files from stdin cannot be.
$ blackbath scale --recipe - --tank -
status 2
-- stderr-has --
only one of the two
