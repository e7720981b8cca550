package bath

import (
	"encoding/json"

	"blackbath/bath/input"
	"blackbath/bath/unit"
)

// tankKeys are all keys of a tank file; each shape takes its own sizes.
var tankKeys = []string{"name", "shape", "freeboard_cm", "heater_kw", "wall"}

var sizeKeys = map[Shape][]string{
	Box:      {"length_cm", "width_cm", "height_cm"},
	Cylinder: {"diameter_cm", "height_cm"},
	Cone:     {"bottom_diameter_cm", "top_diameter_cm", "height_cm"},
	Bowl:     {"rim_diameter_cm", "depth_cm"},
	Drum:     {"diameter_cm", "length_cm"},
	Marks:    {"marks", "rim_cm"},
}

// sizes returns where each size of a tank file is kept.
func (t *Tank) sizes() map[string]*unit.Centimetre {
	return map[string]*unit.Centimetre{
		"length_cm": &t.Length, "width_cm": &t.Width, "height_cm": &t.Height, "diameter_cm": &t.Diameter,
		"bottom_diameter_cm": &t.BottomDiameter, "top_diameter_cm": &t.TopDiameter, "rim_diameter_cm": &t.RimDiameter, "depth_cm": &t.Depth,
	}
}

// ParseTank reads a tank file. The error is an [input.Problems]; the tank is then empty.
func ParseTank(data []byte) (Tank, error) {
	var ps input.Problems
	o, ok := input.ParseObject("tank file", data, &ps)
	if !ok {
		return Tank{}, ps
	}
	t := ReadTank(o)
	ps = ps.Merge(t.Check())
	if err := ps.Err(); err != nil {
		return Tank{}, err
	}
	return t, nil
}

// ReadTank reads a tank out of an object that holds it. Problems of form go to the object's; [Tank.Check] is the caller's.
func ReadTank(o *input.Object) Tank {
	t := Tank{Name: o.String("name"), Shape: Shape(o.String("shape")), Wall: Wall(o.String("wall"))}
	t.Freeboard = unit.Centimetre(required(o, "freeboard_cm"))
	if kw := o.Number("heater_kw"); kw != nil {
		t.HeaterKW = ptr(unit.Kilowatt(*kw))
	}
	known := append(tankKeys[:len(tankKeys):len(tankKeys)], sizeKeys[t.Shape]...)
	fields := t.sizes()
	for _, key := range sizeKeys[t.Shape] {
		switch key {
		case "marks":
			for _, m := range o.Objects("marks") {
				t.MarkTable = append(t.MarkTable, Mark{Level: unit.Centimetre(required(m, "level_cm")), Volume: unit.Litre(required(m, "litres"))})
				m.Done("level_cm", "litres")
			}
		case "rim_cm":
			if rim := o.Number("rim_cm"); rim != nil {
				t.Rim = ptr(unit.Centimetre(*rim))
			}
		default:
			*fields[key] = unit.Centimetre(required(o, key))
		}
	}
	if _, knownShape := sizeKeys[t.Shape]; knownShape { // else every size would be called unknown
		o.Done(known...)
	}
	return t
}

// tankJSON is the tank file as it is written; a nil pointer leaves its key out.
type tankJSON struct {
	Name           string           `json:"name"`
	Shape          Shape            `json:"shape"`
	Length         *unit.Centimetre `json:"length_cm,omitempty"`
	Width          *unit.Centimetre `json:"width_cm,omitempty"`
	Diameter       *unit.Centimetre `json:"diameter_cm,omitempty"`
	BottomDiameter *unit.Centimetre `json:"bottom_diameter_cm,omitempty"`
	TopDiameter    *unit.Centimetre `json:"top_diameter_cm,omitempty"`
	RimDiameter    *unit.Centimetre `json:"rim_diameter_cm,omitempty"`
	Height         *unit.Centimetre `json:"height_cm,omitempty"`
	Depth          *unit.Centimetre `json:"depth_cm,omitempty"`
	Marks          []markJSON       `json:"marks,omitempty"`
	Rim            *unit.Centimetre `json:"rim_cm,omitempty"`
	Freeboard      unit.Centimetre  `json:"freeboard_cm"`
	HeaterKW       *unit.Kilowatt   `json:"heater_kw,omitempty"`
	Wall           Wall             `json:"wall,omitempty"`
}

type markJSON struct {
	Level  unit.Centimetre `json:"level_cm"`
	Litres unit.Litre      `json:"litres"`
}

// MarshalJSON writes the tank as a tank file.
func (t Tank) MarshalJSON() ([]byte, error) {
	out := tankJSON{Name: t.Name, Shape: t.Shape, Freeboard: t.Freeboard, HeaterKW: t.HeaterKW, Wall: t.Wall}
	slots := map[string]**unit.Centimetre{
		"length_cm": &out.Length, "width_cm": &out.Width, "height_cm": &out.Height, "diameter_cm": &out.Diameter,
		"bottom_diameter_cm": &out.BottomDiameter, "top_diameter_cm": &out.TopDiameter, "rim_diameter_cm": &out.RimDiameter, "depth_cm": &out.Depth,
	}
	fields := t.sizes()
	for _, key := range sizeKeys[t.Shape] {
		if slot := slots[key]; slot != nil {
			*slot = fields[key]
		}
	}
	if t.Shape == Marks {
		out.Rim = t.Rim
		for _, m := range t.MarkTable {
			out.Marks = append(out.Marks, markJSON{m.Level, m.Volume})
		}
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads a tank file as [ParseTank] does.
func (t *Tank) UnmarshalJSON(data []byte) error {
	parsed, err := ParseTank(data)
	if err == nil {
		*t = parsed
	}
	return err
}

func ptr[T any](x T) *T { return &x }

// required returns a number, or the mark of an absent one, which Check then names.
func required(o *input.Object, key string) float64 {
	if x := o.Number(key); x != nil {
		return *x
	}
	return absent
}
