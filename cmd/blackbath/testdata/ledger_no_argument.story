# Without a file there is nothing to replay.
$ blackbath ledger --json
status 2
-- stderr-has --
<facts>
