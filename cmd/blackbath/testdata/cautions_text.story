# A splash at 92 °C; what nobody has said yet is asked. The text form ends with who comes first.
$ blackbath cautions f.json
status 0
-- f.json --
{"purpose": "plan", "step": "lift", "bath": {"temp_c": 92}, "piece": {"mass_kg": 4}, "power": {"kind": "gas"}, "person": {"count": 2}, "place": {"children_near": false}}
-- stdout --
Danger R-29: A splash burns in seconds and mud sticks. Apron over boots, face shield, long gloves. Children out.
Local law, the supplier's safety data sheet and a trained person come first.
