# Chlorate with sal ammoniac is refused as a plan: that is an answer, not bad input.
$ blackbath cautions - --json
status 0
-- stdin --
{"step": "make_up", "recipe": {"substances": ["water", "ammonium-chloride", "potassium-chlorate"]}}
-- stdout-has --
"id": "R-10",
"refuse": true,
Refused. Chlorate with sal ammoniac can catch fire or explode by itself.
